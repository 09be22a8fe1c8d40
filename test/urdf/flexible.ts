/**
 * An invented arm with every feature of the URDF tutorial's "flexible" model (ros/urdf_tutorial, 06-flexible.urdf), under
 * names and figures of our own: links in no order, a child named before it stands there, a prismatic joint without an
 * axis, a pair of jaws with opposed axes, joints that turn without end, fixed joints with and without a place.
 */
export const FLEXIBLE = `<?xml version="1.0"?>
<!-- An invented studio cart. -->
<robot name="cart">
  <material name="grey"><color rgba="0.5 0.5 0.5 1"/></material>
  <joint name="mast_on_cart" type="fixed">
    <parent link="cart"/>
    <child link="mast"/>
    <origin xyz="0 0.1 0.25" rpy="0 0 1.5708"/>
  </joint>
  <link name="cart">
    <visual><geometry><box size="0.7 0.5 0.2"/></geometry><origin xyz="0 0 0.1"/></visual>
    <inertial><mass value="24"/><origin xyz="0 0 0.08"/><inertia ixx="1" ixy="0" ixz="0" iyy="1" iyz="0" izz="1"/></inertial>
  </link>
  <link name="wheel_left"><collision><geometry><sphere radius="0.05"/></geometry></collision></link>
  <joint name="roll_left" type="continuous">
    <axis rpy="0 0 0" xyz="0 1 0"/>
    <parent link="cart"/>
    <child link="wheel_left"/>
    <origin xyz="0 0.25 0"/>
  </joint>
  <joint name="reach" type="prismatic">
    <parent link="mast"/>
    <child link="arm"/>
    <limit effort="900.0" lower="-0.42" upper="0" velocity="0.4"/>
    <origin rpy="0 0 0" xyz="0.17 0 0.3"/>
  </joint>
  <link name="mast">
    <collision name="post"><geometry><cylinder length="0.6" radius="0.05"/></geometry><origin xyz="0 0 0.3"/></collision>
    <inertial><mass value="6"/></inertial>
  </link>
  <link name="arm"/>
  <joint name="jaw_left_joint" type="revolute">
    <axis xyz="0 0 1"/>
    <limit effort="900.0" lower="0.0" upper="0.512" velocity="0.5"/>
    <origin rpy="0 0 0" xyz="0.3 0.012 0"/>
    <parent link="arm"/>
    <child link="jaw_left"/>
  </joint>
  <link name="jaw_left"/>
  <joint name="tip_left_joint" type="fixed">
    <parent link="jaw_left"/>
    <child link="tip_left"/>
  </joint>
  <link name="tip_left"><inertial><mass value="0.2"/><origin xyz="0.01 0 0"/></inertial></link>
  <joint name="jaw_right_joint" type="revolute">
    <axis xyz="0 0 -1"/>
    <limit effort="900.0" lower="0.0" upper="0.512" velocity="0.5"/>
    <origin rpy="0 0 0" xyz="0.3 -0.012 0"/>
    <parent link="arm"/>
    <child link="jaw_right"/>
  </joint>
  <link name="jaw_right"/>
  <joint name="turn" type="continuous">
    <parent link="mast"/>
    <child link="lamp"/>
    <axis xyz="0 0 2"/>
    <origin xyz="0 0 0.6"/>
  </joint>
  <link name="lamp"/>
</robot>
`;
