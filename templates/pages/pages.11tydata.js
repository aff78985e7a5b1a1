export default { eleventyExcludeFromCollections: true };
