// From where the part is seen: the eye goes round an upright axis and up and down, as round a part that stands on a table.

const QUARTER = Math.PI / 2;
const ISOMETRIC = Math.atan(Math.SQRT1_2);

/** Where the eye is for each view: ``round`` the part, 0 before its front and growing to the right, and ``up``, radians. */
export function eyeOf(name, corner) {
  const [sx, sy] = corner;
  return {
    front: { round: 0, up: 0 },
    top: { round: 0, up: QUARTER },
    left: { round: -QUARTER, up: 0 },
    right: { round: QUARTER, up: 0 },
    pictorial: { round: Math.atan2(sx, -sy), up: ISOMETRIC },
  }[name];
}

/** The reader's right, up and the way towards the reader, unit vectors of the part. */
export function axesOf({ round, up }) {
  const [c, s] = [Math.cos(round), Math.sin(round)];
  const right = [c, s, 0];
  const toward = [s * Math.cos(up), -c * Math.cos(up), Math.sin(up)];
  return { right, upward: [-s * Math.sin(up), c * Math.sin(up), Math.cos(up)], toward };
}

/** Up and down no farther than straight above and below; round by the shortest way. */
export const held = ({ round, up }) => ({
  round: Math.atan2(Math.sin(round), Math.cos(round)), up: Math.min(QUARTER, Math.max(-QUARTER, up)),
});

/** Between two eyes, the shorter way round. */
export function between(one, other, share) {
  const swing = Math.atan2(Math.sin(other.round - one.round), Math.cos(other.round - one.round));
  return { round: one.round + swing * share, up: one.up + (other.up - one.up) * share };
}

export const same = (one, other) => Math.hypot(between(one, other, 1).round - one.round, other.up - one.up) < 1e-6;

/** The middle and half the extents across and up of ``points``, as the reader sees them. */
export function extentOf(points, { right, upward }) {
  const along = (way) => points.map((p) => p[0] * way[0] + p[1] * way[1] + p[2] * way[2]);
  const [us, vs] = [along(right), along(upward)];
  const [u0, u1, v0, v1] = [Math.min(...us), Math.max(...us), Math.min(...vs), Math.max(...vs)];
  return { middle: [(u0 + u1) / 2, (v0 + v1) / 2], half: [(u1 - u0) / 2, (v1 - v0) / 2] };
}
