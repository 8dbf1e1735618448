// Reads {"counts": [...], "words": [...]} and answers the formulas' values for the counts and the syllables of the words.
import {readFileSync} from 'node:fs'
import {automatedReadability} from 'automated-readability'
import {colemanLiau} from 'coleman-liau'
import {flesch} from 'flesch'
import {fleschKincaid} from 'flesch-kincaid'
import {gunningFog} from 'gunning-fog'
import {smogFormula} from 'smog-formula'
import {syllable} from 'syllable'

const {counts, words} = JSON.parse(readFileSync(0, 'utf8'))
const values = counts.map(({units, words, syllables, letters, polysyllables}) => ({
  'flesch-kincaid': fleschKincaid({sentence: units, word: words, syllable: syllables}),
  'flesch-reading-ease': flesch({sentence: units, word: words, syllable: syllables}),
  smog: smogFormula({sentence: units, polysillabicWord: polysyllables}),
  fog: gunningFog({sentence: units, word: words, complexPolysillabicWord: polysyllables}),
  ari: automatedReadability({sentence: units, word: words, character: letters}),
  'coleman-liau': colemanLiau({sentence: units, word: words, letter: letters})
}))
process.stdout.write(JSON.stringify({values, syllables: words.map((word) => syllable(word))}))
