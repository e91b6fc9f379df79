import type { CastReport } from "../../src/export/castReport";

const svg =
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"><title>a & b</title><path d="M0 0H4"/></svg>`.replace(
    "&",
    "&amp;",
  );

/** A cast that is in time: two pieces on two printers. */
export const goodCast: CastReport = {
  production: "The Tide Court",
  file: "tide.cast.json",
  today: "2027-04-01",
  begins: "2027-04-19",
  readyBy: "2027-05-04",
  opens: "2027-05-14",
  ok: true,
  pieces: [
    {
      headpiece: "Reed wreath",
      role: "The Marsh Warden",
      wearer: "Sedge",
      design: "reed-wreath.headpiece.ts",
      copies: 1,
      verdict: "wear",
      reasons: [],
      girthPlayMm: 8,
      girthEaseMm: 8,
      massG: 168.2,
      material: "PLA",
      by: "2027-05-04",
      on: [
        {
          printer: "Hall",
          fits: true,
          summary: "fits as designed",
          hours: 20,
          hoursMost: 25,
          filamentG: 240,
        },
        {
          printer: "Workshop",
          fits: true,
          summary: "fits as designed",
          hours: 16,
          hoursMost: 20,
          filamentG: 250,
        },
      ],
      picture: svg,
    },
    {
      headpiece: "Kelp crest",
      wearer: "Maris",
      design: "kelp-crest.headpiece.ts",
      copies: 2,
      verdict: "adjust",
      reasons: ["it is heavy"],
      massG: 278,
      material: "PLA",
      by: "2027-05-04",
      on: [
        { printer: "Hall", fits: false, summary: "too large by 9 mm in width" },
        {
          printer: "Workshop",
          fits: false,
          summary: "too large by 2 mm in width",
          hours: 40,
          hoursMost: 50,
          filamentG: 400,
          cutInto: 3,
        },
      ],
    },
  ],
  printers: [
    { name: "Hall", count: 2, prints: 1, hours: 25, days: 2, loadPercent: 3 },
    { name: "Workshop", count: 1, prints: 2, hours: 100, days: 6, loadPercent: 26 },
  ],
  prints: [
    {
      piece: 0,
      printer: "Hall, no. 1",
      start: "2027-04-19T08:00",
      end: "2027-04-20T09:00",
      hours: 25,
      latestStart: "2027-05-03T18:00",
      slackHours: 346,
      lateHours: 0,
      spools: [{ spool: "PLA, new spool no. 1", grams: 264 }],
    },
    {
      piece: 1,
      copy: 1,
      printer: "Workshop",
      start: "2027-04-19T08:00",
      end: "2027-04-21T10:00",
      hours: 50,
      latestStart: "2027-05-01T09:30",
      slackHours: 289.5,
      lateHours: 0,
      spools: [{ spool: "PLA, new spool no. 2", grams: 440 }],
    },
    {
      piece: 1,
      copy: 2,
      printer: "Workshop",
      start: "2027-04-21T10:30",
      end: "2027-04-23T12:30",
      hours: 50,
      latestStart: "2027-05-02T18:00",
      slackHours: 271.5,
      lateHours: 0,
      spools: [
        { spool: "PLA, new spool no. 2", grams: 400 },
        { spool: "PLA, new spool no. 1", grams: 40 },
      ],
    },
  ],
  filament: [
    {
      material: "PLA",
      printsG: 1040,
      wasteG: 104,
      stockG: 0,
      spoolG: 1000,
      buy: 2,
      price: 44,
      currency: "€",
      changes: 1,
    },
  ],
  schedule: {
    optimised: "first the greatest lateness is made least, then the end of the last print",
    method: "exact",
    greatestLatenessHours: -271.5,
    lastEnd: "2027-04-23T12:30",
  },
  basis: ["Planned with the upper end of the hours."],
  findings: [],
  cautions: ["This is costume, not protective equipment: it guards against nothing.", "It burns."],
};

/** The same with names that are full of signs, a late print and somebody whom nothing fits. */
export const lateCast: CastReport = {
  ...goodCast,
  production: `<b>"Tide" & Court</b>`,
  ok: false,
  readyBy: "2027-04-22",
  pieces: [
    {
      ...goodCast.pieces[0],
      wearer: "<script>alert(1)</script>",
      verdict: "dont",
      reasons: ["a < b"],
      others: ["Maris"],
    },
    goodCast.pieces[1],
  ],
  prints: goodCast.prints.map((print, i) =>
    i < 2 ? print : { ...print, latestStart: undefined, slackHours: undefined, lateHours: 16.5 },
  ),
  schedule: { ...goodCast.schedule, method: "search", greatestLatenessHours: 16.5 },
  findings: [
    {
      id: "cast-late",
      severity: "error",
      text: "the print of Kelp crest, no. 2 ends 17 h too late",
      suggestion: "begin a day earlier",
      file: "tide.cast.json",
      line: 7,
      column: 3,
    },
  ],
};
