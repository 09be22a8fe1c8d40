import type { Span } from "../base/span.ts";
import { MOTOR_NAMES, motorScale, placeOf, type LensMotor, type MotorName } from "../lens/lens-motor.ts";
import type { Stated } from "./declared.ts";
import { report } from "./report.ts";
import { originOf, type Scope } from "./resolution.ts";

/** More rows than a scale has marks. */
const MOST_ROWS = 200;

type StatedRow = Stated<readonly (Stated<number | "infinity"> | undefined)[]>;

/** What a lens states of one motor, as far as it could be read. */
interface StatedMotor {
  readonly limits?: Stated<{ readonly [Limit in "speed" | "accel" | "jerk"]?: Stated<number> }>;
  readonly scale?: Stated<readonly (StatedRow | undefined)[]>;
}
type StatedMotors = Stated<{ readonly [Name in MotorName]?: Stated<StatedMotor> }>;

interface Row {
  readonly place: number;
  readonly angle: number;
  readonly span: Span;
}

/** How each motor's scale is counted, for messages. */
const COUNTED: Readonly<Record<MotorName, string>> = {
  focus: "distances",
  iris: "f-numbers",
  zoom: "focal lengths",
};

/** The motors of a lens whose scale makes sense; a finding for each that has limits without one, or a broken one. */
export function motorsOf(scope: Scope, motors: StatedMotors | undefined): readonly LensMotor[] {
  return MOTOR_NAMES.flatMap((name) => {
    const stated = motors?.value[name]?.value;
    return (stated && motorOf(scope, name, stated)) ?? [];
  });
}

function motorOf(scope: Scope, name: MotorName, { limits, scale }: StatedMotor): LensMotor | undefined {
  const { speed, accel, jerk } = limits?.value ?? {};
  if (!scale) {
    if (limits && (speed ?? accel ?? jerk)) {
      const message = `\`limits\` of the ${name} motor are of angles that the motor turns, but how it stands at which of its ${COUNTED[name]} is not said: add \`scale\` with two pairs or more.`;
      report(scope, "missing-field", limits.span, message);
    }
    return undefined;
  }
  const rows = rowsOf(scope, name, scale);
  if (!rows) return undefined;
  const ascending = rows[0].place < rows[1].place ? rows : [...rows].reverse();
  const origin = (one: Stated<number> | undefined): number => (one ? originOf(scope, one.span) : 0);
  return {
    name,
    limits: {
      ...(speed ? { speed: speed.value } : {}),
      ...(accel ? { accel: accel.value } : {}),
      ...(jerk ? { jerk: jerk.value } : {}),
    },
    scale: motorScale(ascending),
    origins: {
      scale: originOf(scope, scale.span),
      speed: origin(speed),
      accel: origin(accel),
      jerk: origin(jerk),
    },
  };
}

/** The rows of a scale as they stand; a finding, and nothing, where they are no scale. */
function rowsOf(
  scope: Scope,
  name: MotorName,
  { value, span }: NonNullable<StatedMotor["scale"]>,
): readonly Row[] | undefined {
  if (MOST_ROWS < value.length) {
    report(scope, "too-large", span, `\`scale\` has ${value.length} rows; at most ${MOST_ROWS} are read.`);
    return undefined;
  }
  const rows = value.flatMap((row) => rowOf(name, row) ?? []);
  // A row that could not be read has its own finding.
  if (rows.length < value.length) return undefined;
  if (rows.length < 2) {
    const message = `\`scale\` of the ${name} motor has ${rows.length === 0 ? "no rows" : "one row"}: two or more are needed to tell how it turns.`;
    report(scope, "bad-number", span, message);
    return undefined;
  }
  for (let i = 1; i < rows.length; i++) {
    const fault = faultAt(name, rows, i);
    if (fault === undefined) continue;
    report(scope, "bad-number", rows[i].span, fault);
    return undefined;
  }
  return rows;
}

function rowOf(name: MotorName, row: StatedRow | undefined): Row | undefined {
  const [mark, angle] = row?.value ?? [];
  if (!row || !mark || typeof angle?.value !== "number") return undefined;
  const place = mark.value === "infinity" ? 0 : placeOf(name, mark.value);
  return { place, angle: angle.value, span: row.span };
}

/** Why a row cannot follow those before it, or `undefined`. */
function faultAt(name: MotorName, rows: readonly Row[], at: number): string | undefined {
  const step = (i: number, of: "place" | "angle"): number => rows[i][of] - rows[i - 1][of];
  const what = `\`scale\` of the ${name} motor`;
  if (!turnsOn(step(1, "place"), step(at, "place")))
    return `The rows of ${what} go on from one end to the other, each of its ${COUNTED[name]} once.`;
  if (!turnsOn(step(1, "angle"), step(at, "angle")))
    return `The angles of ${what} only rise or only fall: at one angle the lens can stand at one mark alone.`;
  return undefined;
}

const turnsOn = (first: number, next: number): boolean => 0 < first * next;
