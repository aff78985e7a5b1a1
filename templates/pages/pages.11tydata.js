// A fixed date spares a look at the file system for each of thousands of pages; none of them shows it.
export default { eleventyExcludeFromCollections: true, date: new Date(0) };
