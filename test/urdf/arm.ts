import { FLEXIBLE } from "./flexible.ts";

/** A small right arm: a slide and two turns. */
export const ARM = `<robot name="arm">
  <link name="floor"/>
  <link name="carriage"/>
  <link name="shoulder"/>
  <link name="hand"/>
  <joint name="slide" type="prismatic">
    <parent link="floor"/><child link="carriage"/><axis xyz="0 1 0"/><limit lower="-1" upper="1" velocity="0.5"/>
  </joint>
  <joint name="pan" type="revolute">
    <parent link="carriage"/><child link="shoulder"/><axis xyz="0 0 1"/><limit lower="-1.5" upper="1.5"/>
  </joint>
  <joint name="tilt" type="revolute">
    <parent link="shoulder"/><child link="hand"/><axis xyz="0 -1 0"/><limit lower="-1" upper="1"/>
  </joint>
</robot>
`;

/** Files that a fixture finds beside its own. */
export const besideArm = (arm = ARM): Record<string, string> => ({ "arm.urdf": arm, "cart.urdf": FLEXIBLE });

/** The arm with a part of its text replaced. */
export function changed(from: string, to: string): string {
  if (!ARM.includes(from)) throw new Error(`the arm has no ${from}`);
  return ARM.replace(from, to);
}
