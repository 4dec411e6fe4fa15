import fc from 'fast-check';
import { expect, it } from 'vitest';
import { parseIxml } from './parse-ixml.ts';

// The names of the elements are those of the iXML specification ("Individual Object Details").
const DOCUMENT = `<?xml version="1.0" encoding="UTF-8"?>
<BWFXML>
  <IXML_VERSION>1.61</IXML_VERSION><PROJECT>Pottery &amp; glaze</PROJECT><SCENE>4B</SCENE><TAKE>7</TAKE>
  <TAPE>DESK02</TAPE><FILE_UID>QSDESK0042</FILE_UID>
  <SPEED>
    <TIMECODE_RATE>24000/1001</TIMECODE_RATE><TIMECODE_FLAG>NDF</TIMECODE_FLAG>
    <TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_HI>1</TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_HI>
    <TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_LO>3653832704</TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_LO>
    <TIMESTAMP_SAMPLE_RATE>96000</TIMESTAMP_SAMPLE_RATE>
  </SPEED>
  <TRACK_LIST><TRACK_COUNT>2</TRACK_COUNT>
    <TRACK><CHANNEL_INDEX>3</CHANNEL_INDEX><INTERLEAVE_INDEX>2</INTERLEAVE_INDEX><NAME>Töpfer</NAME></TRACK>
    <TRACK><CHANNEL_INDEX>1</CHANNEL_INDEX><INTERLEAVE_INDEX>1</INTERLEAVE_INDEX><NAME>Mix</NAME></TRACK>
  </TRACK_LIST>
</BWFXML>`;
const FACTS = {
  project: 'Pottery & glaze',
  scene: '4B',
  take: '7',
  tape: 'DESK02',
  fileUid: 'QSDESK0042',
  timecodeRate: { numerator: 24_000, denominator: 1001 },
  isDropFrame: false,
  // 23:00:00 at 96 kHz, past 32 bits.
  samplesSinceMidnight: 7_948_800_000,
  timestampSampleRate: 96_000,
  trackNames: ['Mix', 'Töpfer'],
};

it('reads a recorder’s document, its tracks in the order of the file', () => {
  expect(parseIxml(Buffer.from(DOCUMENT))).toEqual(FACTS);
});

it.each([
  ['NULs at the end', Buffer.from(`${DOCUMENT}\0\0\0`)],
  ['another encoding than it claims', Buffer.from(DOCUMENT, 'latin1')],
  ['UTF-16 with a mark', Buffer.from(`\ufeff${DOCUMENT}`, 'utf16le')],
  ['a mark before UTF-8', Buffer.from(`\ufeff${DOCUMENT}`)],
  ['the misspelt name', Buffer.from(DOCUMENT.replaceAll('TIMESTAMP_SAMPLES_', 'TIMESTAMP_SAMPLE_'))],
])('takes %s', (_, bytes) => {
  expect(parseIxml(bytes)).toEqual(FACTS);
});

it.each([
  ['25/1', { numerator: 25, denominator: 1 }],
  ['29.97', { numerator: 30_000, denominator: 1001 }],
  ['30000/1001', { numerator: 30_000, denominator: 1001 }],
  ['fast', null],
])('the rate %s is exact or nothing', (text, rate) => {
  const bytes = Buffer.from(`<BWFXML><SPEED><TIMECODE_RATE>${text}</TIMECODE_RATE></SPEED></BWFXML>`);
  expect(parseIxml(bytes)?.timecodeRate).toEqual(rate);
});

it('a document that is not well-formed, or expands entities of its own, tells nothing', () => {
  expect(parseIxml(Buffer.from('<BWFXML><SCENE>4</BWFXML>'))).toBeNull();
  const bomb = '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><BWFXML><SCENE>&b;</SCENE></BWFXML>';
  expect(parseIxml(Buffer.from(bomb))).toBeNull();
});

it('never throws, whatever the bytes', () => {
  fc.assert(fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => void parseIxml(Buffer.from(bytes))));
});
