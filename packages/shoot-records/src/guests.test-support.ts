import type { PicturedRun, ShootPicture } from './shoot-picture.ts';

const ENDED_AT = '2026-11-25T17:59:00.000Z';

/** The picture with what three plugins made of it: sheets at this destination, loudness with a finding, and a text that lies elsewhere. */
export function withGuests(picture: ShootPicture): ShootPicture {
  const [group] = picture.groups;
  const [clip] = picture.clips;
  const place = 'records/plugins/contact-sheet/draw/pottery-class';
  const sheets: PicturedRun = {
    step: 'contact-sheet/draw',
    version: '1.0.0',
    subject: { kind: 'shoot', id: 'pottery-class' },
    endedAt: ENDED_AT,
    output: { sheets: [{ group: group?.id ?? null, file: 'group 1.svg', frames: [] }] },
    findings: [],
    files: [{ path: 'group 1.svg', place: `${place}/group 1.svg`, elsewhere: [] }],
  };
  const subject = { kind: 'clip', id: clip?.id ?? '' } as const;
  const loudness: PicturedRun = {
    step: 'loudness/measure',
    version: '1.0.0',
    subject,
    endedAt: ENDED_AT,
    output: {
      tracks: [
        { track: 0, integrated: -23, range: 5.04, truePeak: -1.2, channels: [] },
        { track: 1, integrated: null, range: 0, truePeak: null, channels: [] },
      ],
    },
    findings: [
      {
        code: 'loudness/SILENT_CHANNEL',
        severity: 'warning',
        subject,
        why: 'Channel 2 is silent.',
        remedy: 'Check the cable.',
        at: ENDED_AT,
      },
    ],
    files: [],
  };
  const notes: PicturedRun = {
    step: 'shot-notes/write',
    version: '0.2.0',
    subject,
    endedAt: ENDED_AT,
    output: { words: 12, title: '<b>Cup</b>', tags: ['a', 'b'], more: { x: 1 }, none: null },
    findings: [],
    files: [
      { path: 'notes.txt', place: null, elsewhere: ['backup'] },
      { path: 'drawing.png', place: null, elsewhere: [] },
      {
        path: 'raw #1?.csv',
        place: 'records/plugins/shot-notes/write/wheel-1/raw #1?.csv',
        elsewhere: ['backup'],
      },
    ],
  };
  return { ...picture, guests: [notes, loudness, sheets] };
}
