// One job with every table, in mm; invented. Tests vary it.
#pragma once

#include <string>

namespace seatwright::job::test {

inline const std::string full_job = R"(title = "invented full job"
units = "mm"
[head]
name = "h"
material = "grey iron"
mass = "21 kg"
mirror = "none"
datum = "1I"
obstacle = [ { name = "plug", x = 4, y = 30, z = -5, diameter = 14 } ]
bolt_holes = [[-56, -50], [56, -50], [168, -50], [-56, 50], [56, 50], [168, 50]]
bolt_hole_diameter = 13.5
posts = [0, 2]
[head.pattern]
cylinders = 2
bore_spacing = 112
alternate = "mirrored"
valve = [ { kind = "intake", x = -22, y = 4, z = -9, incline = 19.5, cant = 2 },
          { kind = "exhaust", x = 22, y = 4, z = -9, incline = "19.5 deg", cant = -1 } ]
[[head.valve]]
id = "X1"
cylinder = 2
kind = "exhaust"
x = 200
y = 0
z = -3
incline = 10
cant = 0
[valve.intake]
head_diameter = 44.5
face_angle = 45
stem_diameter = 8.7
margin = 1.5
[valve.exhaust]
head_diameter = 38.1
[seat.intake]
angle = 45
width = 1.5
inset = 0.5
top = [ { angle = 30, width = 1.0 }, { angle = 15, width = 0.5 } ]
throat = [ { angle = 60, width = 1.2 } ]
width_tol = 0.2
runout_max = 0.05
stem_height = 47.5
stem_height_max = 48.5
recession_max = 1
cut_allowed = true
tip_grind_max = 0.25
vacuum_min = "21 inHg"
vacuum_loss_max = "4 inHg"
material = "grey iron"
insert = { outside = 48, inside = 36, depth = 8 }
[seat.exhaust]
angle = 45
width = 1.8
contact_diameter = 37.1
[guide.intake]
bore = 8.73
bore_max = 8.83
bell_max = 0.025
length = 55
mouth = 9.5
to_seat = 40
[depth]
step = 0.01
stem_spread = 0.3
chamber_spread = "0.5 cm3"
cleanup_margin = 0.02
from = "deck"
plan = "together"
deck_cut = "0.1 mm"
bridge_min = 1
spring_shims = [0.4, 0.8]
lash_shim_step = 0.025
swept = "580 cm3"
[find]
touch_sd = 0.02
casting_sd = 0.08
yaw_sd = "0.05 deg"
positioning_sd = 0.005
enter_target = 0.999
learn_min_heads = 5
carry = { x = 0.1, y = -0.2, yaw = "0.1 deg", sd = 0.1, yaw_sd = "0.02 deg" }
[machine]
name = "m"
travel_x = 900
travel_y = 300
travel_z = 250
x_sign = 1
y_sign = -1
resolution = 0.001
rpm_min = 60
rpm_max = 1500
rpm_step = 5
power = "2.2 kW"
torque = "40 Nm"
rapid = "6 m/min"
accel = "0.5 m/s2"
float_stiffness = "2 N/um"
axial_stiffness = 20
mode = { frequency = "180 Hz", stiffness = "12 N/um", damping = 0.04 }
[fixture]
name = "f"
tilt = ["-30 deg", "50 deg"]
swing = ["0 deg", "0 deg"]
plumb_limit = "0.05 deg"
post_diameter = 12.7
clamp_force = "6 kN"
friction = 0.15
captive = false
load_from = "back"
post_span = [100, 800]
mass_max = "60 kg"
[[pilot]]
name = "8.73"
style = "fixed"
diameter = 8.73
taper = "0.0005 in/in"
free_length = 80
tip = 8.4
[[cutter]]
name = "c"
facets = [ { angle = 60, width = 1.6 }, { angle = 45, width = 1.8 }, { angle = 30, width = 1.4 } ]
gauge_diameter = [30, 50]
blades = 1
[[material]]
name = "grey iron"
kc11 = "1150 N/mm2"
mc = 0.2
speed = ["60 m/min", "100 m/min"]
feed = ["0.02 mm", "0.06 mm"]
modulus = "110 GPa"
poisson = 0.26
expansion = "11.4 um/m/K"
normal_ratio = 0.5
[[reading.touch]]
head = "1"
valve = "1I"
x = 0.0
y = 0.0
sd = 0.01
[[reading.touch]]
head = 2
valve = "?"
x = 10
y = 3
[[reading.level]]
valve = "1I"
across = "incline"
first = "0.12 deg"
second = "-0.08 deg"
[[reading.guide]]
valve = "1I"
top = 8.75
middle = 8.74
bottom = 8.75
[[reading.seat]]
valve = "1I"
stem_height = 47.6
recession = 0
cleanup = 0.1
chamber = "64.1 cm3"
section = [[19, -1], [20, 0], [21, 1]]
[[reading.proof]]
valve = "1I"
trace = [0.01, 0.02, 0.01, 0, -0.01, -0.02, -0.01, 0]
angles = [0, 45, 90, 135, 180, 225, 270, 315]
runout = 0.04
width = [1.5, 1.6]
stem_height = 47.9
vacuum = "25 inHg"
by = "A"
gauge_u = 0.001
)";

}  // namespace seatwright::job::test
