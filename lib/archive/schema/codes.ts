import type { Catalogue, Facts } from '../../units/problem.ts';

const STEP = [
  '"{step}" where the recipe has no {step}',
  '{step}: below recipe, with its temperature and time{ratio}',
  'add {step}: {sample} to the recipe{or}',
] as const;
const PICTURE = 'a picture as .jpg, .png or .webp';
const SAVE_PICTURE =
  'save it as .jpg: open it and export it so, or set the camera of the phone to its most compatible format';
const PRIMING_SUGAR = 'a sugar whose gas the tables know{such}';
const GIVE_PRIMING = 'write {sugar}, or give its priming: in content/ingredients.yaml';

/** Every problem that the check of a file's content reports. */
export const SCHEMA_PROBLEMS = {
  'newer-format': [
    'The brewer’s files are of a newer format than this version of the program knows.',
    'files of format {format}',
    '{known}, all that this version knows',
    'install a newer version of Kettleside; none of your files was changed',
  ],
  'missing-key': [
    'A key that is needed is absent or empty.',
    'nothing',
    '{expected}',
    ['add {line}', 'write {what}'],
  ],
  'unknown-key': [
    'A key that the file may not have; often a typing slip.',
    '{key}',
    '{known}',
    ['write {near}', 'remove the key, or move it to the notes'],
  ],
  'comma-decimal': [
    'A decimal comma without quotes, which YAML takes for the end of the value.',
    '{written} without quotes',
    ['a decimal comma{decimal} in quotes, or a decimal point', 'a whole number'],
    ['write {key}: "{written}" or {key}: {pointed}', 'write {key}: in digits, without decimals'],
  ],
  'wrong-shape': [
    'A list, a group of keys or a single value where another of the three belongs.',
    '{found}',
    '{expected}',
    ['begin each {item}', 'write {what}'],
  ],
  'text-too-long': [
    'A text that is longer than its place allows.',
    '{length} characters',
    'at most {longest} characters',
    'shorten it, or put the long part into the notes below the frontmatter',
  ],
  'not-a-choice': [
    'A word that this key does not know.',
    '{text}',
    '{words}',
    ['write {near}', 'choose one of them'],
  ],
  'not-a-flag': ['Not true or false.', '{text}', 'true or false', 'write true or false, without quotes'],
  'not-a-count': ['Not a whole number.', '{text}', '{range}, without a unit', 'write it in digits{how}'],
  'not-a-number': [
    'Not a plain number.',
    '{text}',
    ['{range}, without a unit', 'a number without a unit, such as {sample}'],
    'write it in digits{how}',
  ],
  'not-a-score': [
    'Not a score of 0 to 5 in halves.',
    '{text}',
    '0 to 5, halves allowed',
    'write for example 3.5',
  ],
  'not-a-moment': [
    'A time of an addition that is neither minutes nor one of the words.',
    '{text}',
    'minutes left in the boil such as 12 min, flameout, stand, dry, first wort, steep, fermenter or packaging',
    ['write {near}', 'write one of these'],
  ],
  'not-an-address': [
    'Not the address of a site.',
    '{text}',
    'the full address of the site, https://… without a query',
    'write it as the browser shows it',
  ],
  'not-a-language': [
    'Not a language tag.',
    '{text}',
    'a language tag such as en or en-GB',
    'write for example en',
  ],
  'bad-slug': [
    'A name that cannot be the name of a file on every machine.',
    '{text}',
    'small letters, digits and hyphens, at most 80, beginning with a letter or a digit',
    ['write {mended}', 'choose another name'],
  ],
  'picture-place': [
    'A picture that is named by a path, or by a name that hides it.',
    '{text}',
    'the name alone of a file in the folder of the batch, such as glass.jpg',
    'put the file there and write its name without a path',
  ],
  'picture-format': ['A picture in a format that cannot be published.', '{text}', PICTURE, SAVE_PICTURE],
  'picture-unusable': [
    'Warning: a picture that is missing, is not an ordinary file or cannot be read; it is left out.',
    '{found}',
    `${PICTURE} in the folder of the batch`,
    ['put the file there{missing}, or take the line out', SAVE_PICTURE],
  ],
  'out-of-range': [
    'A figure that is not possible; as a warning, one that is most unlikely.',
    '{text}',
    '{possible}',
    'check the {figure}',
  ],
  'addition-after-boil': [
    'An addition with more minutes left than the boil is long.',
    '"{written}", longer than the {boil} boil',
    'a time from 0 min to {boil}, flameout, stand, dry or first wort',
    'shorten the addition or lengthen the boil',
  ],
  'stand-missing': ['An addition in the stand where the recipe has none.', ...STEP],
  'steep-missing': ['Something is steeped where the recipe has no steep.', ...STEP],
  'mash-missing': ['Grain is mashed where the recipe has no mash.', ...STEP],
  'day-missing': [
    'An addition after pitching that does not say on which day.',
    'nothing',
    'the number of days after pitching',
    'add for example day: 7',
  ],
  'key-not-wanted': [
    'A key that has no meaning beside the time of the addition.',
    '{key}: beside an addition that is made {when}',
    '{key}: only with {wanted}',
    'remove {key}:, or change add:',
  ],
  'keg-temperature-missing': [
    'A keg without the temperature that it is served at.',
    'nothing',
    'the temperature that the keg is served at, which sets the pressure',
    'add for example temperature: {sample}',
  ],
  'package-volume-missing': [
    'A divided batch that does not say how much goes where.',
    'nothing',
    'how much goes here, since the batch is divided',
    'add for example volume: {sample}',
  ],
  'unknown-setup': [
    'A setup that content/setups.yaml does not have.',
    '{setup}',
    'a setup of content/setups.yaml: {known}',
    ['write {near}', 'write one of these, or add the setup to the file'],
  ],
  'setup-missing': [
    'No setup is named where there are several.',
    'nothing',
    'one of the setups of content/setups.yaml: {known}',
    'add setup: {first}',
  ],
  'unknown-ingredient': [
    'An ingredient that no table has and that is not described in place.',
    ['{slip}, one letter off a hop of the tables', '{name}'],
    ['{kind} of the tables, {such}', '{near}, or a hop with exactly this name', PRIMING_SUGAR],
    [
      '{write}describe it here with {keys}, or in content/ingredients.yaml',
      'write {near}, or enter {slip} in content/ingredients.yaml',
      GIVE_PRIMING,
    ],
  ],
  'wrong-list': [
    'An ingredient in the list of another kind.',
    '{name}, which the tables know as {other}',
    'an ingredient of the kind {kind} in recipe.{list}',
    'move it to recipe.{right}, or describe it here with {keys}',
  ],
  'figure-missing': [
    'A figure that neither the recipe nor the table states.',
    'nothing',
    'the {key} of {name}, which the tables do not state',
    'add for example {sample}',
  ],
  'not-for-priming': [
    'A priming sugar whose gas the tables do not know.',
    '{name}',
    PRIMING_SUGAR,
    GIVE_PRIMING,
  ],
  'ingredient-twice': [
    'Two rows of one table with the same name and kind.',
    '{name}',
    'one row for each {kind}',
    'remove one of the two, or give it another name',
  ],
  'heat-twice': [
    'A setup with both heat and heats.',
    'heat: and heats:',
    'one of the two',
    'keep heats: where you have timed your stove, else heat:',
  ],
  'heats-backwards': [
    'Heats that end no warmer than they began.',
    '"{to}", not above {from}',
    'a temperature above that of from:',
    'write the colder temperature at from: and the warmer at to:',
  ],
  'base-malt-steeped': [
    'Warning: a grain that needs a mash is steeped.',
    '{name} in the steep',
    'a mash, since this grain gives little but starch to a steep',
    'mash it (in: mash), or choose a crystal or roasted malt',
  ],
  'readings-contradict': [
    'Warning: readings that cannot all be right, their days, clock times or gravities being out of order.',
    [
      '{day}, before the batch was brewed on {brewed}',
      '{clock}, {order} {start} at {from}',
      '{final}, above the original gravity of {original}',
    ],
    [
      'a day from {brewed} on',
      'the clock time when the {step} ended, at most {most} h after it began',
      'a final gravity below the original one',
    ],
    'check {what}',
  ],
  'unknown-batch': [
    'Warning: the batch that this one is based on is not in the archive.',
    '{name}',
    'the file name, without .md, of another batch',
    ['write {near}', 'correct the name or remove the key'],
  ],
} as const satisfies Catalogue;

export type SchemaCode = keyof typeof SCHEMA_PROBLEMS;
/** The facts of a code. */
export type SchemaFacts<C extends SchemaCode> = Facts<(typeof SCHEMA_PROBLEMS)[C]>;
