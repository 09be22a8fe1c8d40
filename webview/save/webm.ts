/** One coded picture of a film. */
export interface FilmBlock {
  /** Since the start [ms]. */
  readonly time: number;
  /** True where a player can begin. */
  readonly key: boolean;
  readonly data: Uint8Array;
}

export interface Film {
  readonly codec: "V_VP8" | "V_VP9";
  /** px. */
  readonly width: number;
  readonly height: number;
  /** How long each picture is shown, and the whole film [ms]. */
  readonly each: number;
  readonly duration: number;
  /** In the order of their times; the first is a key. */
  readonly blocks: readonly FilmBlock[];
}

/** Names of elements as RFC 8794 (EBML) and RFC 9559 (Matroska) number them. */
const ID = {
  EBML: 0x1a45dfa3,
  EBMLVersion: 0x4286,
  EBMLReadVersion: 0x42f7,
  EBMLMaxIDLength: 0x42f2,
  EBMLMaxSizeLength: 0x42f3,
  DocType: 0x4282,
  DocTypeVersion: 0x4287,
  DocTypeReadVersion: 0x4285,
  Segment: 0x18538067,
  Info: 0x1549a966,
  TimestampScale: 0x2ad7b1,
  Duration: 0x4489,
  MuxingApp: 0x4d80,
  WritingApp: 0x5741,
  Tracks: 0x1654ae6b,
  TrackEntry: 0xae,
  TrackNumber: 0xd7,
  TrackUID: 0x73c5,
  TrackType: 0x83,
  FlagLacing: 0x9c,
  CodecID: 0x86,
  DefaultDuration: 0x23e383,
  Video: 0xe0,
  PixelWidth: 0xb0,
  PixelHeight: 0xba,
  Cluster: 0x1f43b675,
  Timestamp: 0xe7,
  SimpleBlock: 0xa3,
  Cues: 0x1c53bb6b,
  CuePoint: 0xbb,
  CueTime: 0xb3,
  CueTrackPositions: 0xb7,
  CueTrack: 0xf7,
  CueClusterPosition: 0xf1,
} as const;

/** Bytes in pieces that follow one another. */
type Pieces = readonly Uint8Array[];
const NANOSECONDS = 1e6;
const KEY_FLAG = 0x80;

/** A film as a WebM file that says how long it is and where a player can begin. A cluster begins at each key. */
export function webmOf(film: Film): Pieces {
  const name = [text(ID.MuxingApp, "Movewright"), text(ID.WritingApp, "Movewright")];
  const info = element(ID.Info, [whole(ID.TimestampScale, NANOSECONDS), float(ID.Duration, film.duration), ...name]);
  const size = element(ID.Video, [whole(ID.PixelWidth, film.width), whole(ID.PixelHeight, film.height)]);
  const track = element(ID.TrackEntry, [
    ...[whole(ID.TrackNumber, 1), whole(ID.TrackUID, 1), whole(ID.TrackType, 1), whole(ID.FlagLacing, 0)],
    ...[text(ID.CodecID, film.codec), whole(ID.DefaultDuration, Math.round(film.each * NANOSECONDS)), size],
  ]);
  const head = [info, element(ID.Tracks, [track])];
  let at = sizeOf(head.flat());
  const cues: Pieces[] = [];
  const clusters = clustersOf(film.blocks).map((blocks) => {
    const start = Math.round(blocks[0].time);
    const cluster = element(ID.Cluster, [whole(ID.Timestamp, start), ...blocks.map((one) => simpleBlock(one, start))]);
    const place = element(ID.CueTrackPositions, [whole(ID.CueTrack, 1), whole(ID.CueClusterPosition, at)]);
    cues.push(element(ID.CuePoint, [whole(ID.CueTime, start), place]));
    at += sizeOf(cluster);
    return cluster;
  });
  return [...element(ID.EBML, EBML_HEAD), ...element(ID.Segment, [...head, ...clusters, element(ID.Cues, cues)])];
}

const EBML_HEAD = [
  ...[whole(ID.EBMLVersion, 1), whole(ID.EBMLReadVersion, 1), whole(ID.EBMLMaxIDLength, 4)],
  ...[whole(ID.EBMLMaxSizeLength, 8), text(ID.DocType, "webm"), whole(ID.DocTypeVersion, 4)],
  whole(ID.DocTypeReadVersion, 2),
];

function clustersOf(blocks: readonly FilmBlock[]): FilmBlock[][] {
  const clusters: FilmBlock[][] = [];
  for (const block of blocks) {
    if (block.key || clusters.length === 0) clusters.push([block]);
    else clusters[clusters.length - 1].push(block);
  }
  return clusters;
}

/** Track 1, the time after the cluster's start as 16 bits, flags, and the picture. */
function simpleBlock({ time, key, data }: FilmBlock, start: number): Pieces {
  const after = Math.round(time) - start;
  return element(ID.SimpleBlock, [[Uint8Array.of(0x81, (after >> 8) & 255, after & 255, key ? KEY_FLAG : 0), data]]);
}

function element(id: number, content: readonly Pieces[]): Pieces {
  const pieces = content.flat();
  // A size in eight bytes: the mark of the length, then 56 bits.
  return [Uint8Array.from([...bytesOf(id), 0x01, ...bytesOf(sizeOf(pieces), 7)]), ...pieces];
}

function whole(id: number, value: number): Pieces {
  return element(id, [[Uint8Array.from(bytesOf(value))]]);
}

function float(id: number, value: number): Pieces {
  const data = new Uint8Array(8);
  new DataView(data.buffer).setFloat64(0, value);
  return element(id, [[data]]);
}

function text(id: number, words: string): Pieces {
  return element(id, [[new TextEncoder().encode(words)]]);
}

/** Big-endian, in as few bytes as hold the value or in `length` of them. */
function bytesOf(value: number, length?: number): number[] {
  const bytes: number[] = [];
  for (let rest = value; rest > 0 || bytes.length < (length ?? 1); rest = Math.floor(rest / 256)) {
    bytes.unshift(rest % 256);
  }
  return bytes;
}

function sizeOf(pieces: Pieces): number {
  return pieces.reduce((sum, piece) => sum + piece.length, 0);
}
