"""The words that both ends of a link know: a car record as it is likely to be.

The compressor is given this text beforehand, so that a link carries only what differs from it. It
never changes, or the links printed so far could not be read: a record that has grown far beyond it
calls for a second text under another sign of the format.
"""

WORDS_1 = (
    '{"schema":1,"name":"Demo buggy","thread_hand":"right","front":{"pitch":0.00075,"motion_ratio'
    '":0.65,"spring_free":0.04,"spring_rate":650,"spring_solid":0.013,"droop_length":0.0385,"stro'
    'ke":0.022,"damper_length":0.0718,"bore":0.012,"shaft":0.003,"holes":3,"hole":0.0012,"piston_'
    'thickness":0.0025,"oil":0.0004,"unsprung":0.07,"ride_height":0.022,"wanted_height":0.0235,"r'
    'each":0,"gauge_width":0.08,"track":0.21,"inside":{"clearance":0.0001,"more_holes":0,"more_ho'
    'le":0.0014,"compression_holes":0,"compression_hole":0.0012,"rebound_holes":0,"rebound_hole":'
    '0.0012,"length":0.033,"parts":2.5e-07,"held":3.3e-06,"closed_at":0.01,"gas":5e-07},"arm":{"p'
    'ivot_out":0.032,"pivot_up":0.03,"wheel_out":0.098,"wheel_up":0.026,"lower_out":0.078,"lower_'
    'up":0.03,"upper_out":0.054,"upper_up":0.092,"other_lower_out":0.078,"other_lower_up":0.03,"o'
    'ther_upper_out":0.048,"other_upper_up":0.09}},"rear":{"pitch":0.00075,"motion_ratio":0.62,"s'
    'pring_free":0.058,"spring_rate":500,"spring_solid":0.015,"droop_length":0.0555,"stroke":0.03'
    ',"damper_length":0.0969,"bore":0.012,"shaft":0.003,"holes":3,"hole":0.0012,"piston_thickness'
    '":0.0025,"oil":0.0003,"unsprung":0.085,"ride_height":0.023,"wanted_height":0.024,"reach":0,"'
    'gauge_width":0.07,"track":0.212,"inside":{"clearance":0.0001,"more_holes":0,"more_hole":0.00'
    '14,"compression_holes":0,"compression_hole":0.0012,"rebound_holes":0,"rebound_hole":0.0012,"'
    'length":0.041,"parts":2.5e-07,"held":4.2e-06,"closed_at":0.014,"gas":6e-07},"arm":{"pivot_ou'
    't":0.03,"pivot_up":0.032,"wheel_out":0.104,"wheel_up":0.027,"lower_out":0.08,"lower_up":0.03'
    '2,"upper_out":0.045,"upper_up":0.112,"other_lower_out":0.08,"other_lower_up":0.032,"other_up'
    'per_out":0.038,"other_upper_up":0.11}},"temperature":295.15,"rod_end":{"material":"plastic",'
    '"thread":0.003,"pitch":0.0005},"body":{"wheelbase":0.285},"corners":{"front_left":{"load":0.'
    '365,"collar":0,"stroke":0.0216,"engaged":0.008},"front_right":{"load":0.359,"collar":0,"stro'
    'ke":0.0221,"engaged":0.0075},"rear_left":{"load":0.462,"collar":0,"stroke":0.0304,"engaged":'
    '0.008},"rear_right":{"load":0.47,"collar":0,"stroke":0.0295,"engaged":0.0085}},"tools":{"tur'
    'n_step":0.25,"ruler":0.0005,"calliper":5e-05,"height_gauge":0.0005,"scale":0.001,"oil_scale"'
    ':0.0001,"syringe":1e-07,"drop":3e-08},"weight_scale":{"slope":15,"offset":-100},"bottles":[{'
    '"name":"blue cap","viscosity":0.0002,"left":6e-05},{"name":"","viscosity":0.0003,"left":2.5e'
    '-05},{"name":"","viscosity":0.00035,"left":8e-06},{"name":"","viscosity":0.0005,"left":4.5e-'
    '05},{"name":"red cap","viscosity":0.0008,"left":5e-05}],"springs":[{"name":"front, one dot",'
    '"rate":650,"free":0.04,"solid":0.013},{"name":"front, two dots","rate":760,"free":0.04,"soli'
    'd":0.014},{"name":"rear, one dot","rate":500,"free":0.058,"solid":0.015},{"name":"rear, two '
    'dots","rate":440,"free":0.06,"solid":0.0145}],"demo":true}'
)

PATHS_2 = (
    "thread_hand front.pitch front.motion_ratio front.spring_free front.spring_rate "
    "front.spring_solid front.droop_length front.stroke front.damper_length front.bore "
    "front.shaft front.holes front.hole front.piston_thickness front.oil front.oil_at "
    "front.unsprung front.ride_height front.wanted_height front.reach front.gauge_width "
    "front.track front.inside.clearance front.inside.more_holes front.inside.more_hole "
    "front.inside.compression_holes front.inside.compression_hole front.inside.rebound_holes "
    "front.inside.rebound_hole front.inside.length front.inside.parts front.inside.held "
    "front.inside.closed_at front.inside.gas front.arm.pivot_out front.arm.pivot_up "
    "front.arm.wheel_out front.arm.wheel_up front.arm.lower_out front.arm.lower_up "
    "front.arm.upper_out front.arm.upper_up front.arm.other_lower_out front.arm.other_lower_up "
    "front.arm.other_upper_out front.arm.other_upper_up rear.pitch rear.motion_ratio "
    "rear.spring_free rear.spring_rate rear.spring_solid rear.droop_length rear.stroke "
    "rear.damper_length rear.bore rear.shaft rear.holes rear.hole rear.piston_thickness "
    "rear.oil rear.oil_at rear.unsprung rear.ride_height rear.wanted_height rear.reach "
    "rear.gauge_width rear.track rear.inside.clearance rear.inside.more_holes "
    "rear.inside.more_hole rear.inside.compression_holes rear.inside.compression_hole "
    "rear.inside.rebound_holes rear.inside.rebound_hole rear.inside.length rear.inside.parts "
    "rear.inside.held rear.inside.closed_at rear.inside.gas rear.arm.pivot_out "
    "rear.arm.pivot_up rear.arm.wheel_out rear.arm.wheel_up rear.arm.lower_out "
    "rear.arm.lower_up rear.arm.upper_out rear.arm.upper_up rear.arm.other_lower_out "
    "rear.arm.other_lower_up rear.arm.other_upper_out rear.arm.other_upper_up temperature "
    "rod_end.thread rod_end.pitch body.wheelbase corners.front_left.load "
    "corners.front_left.collar corners.front_left.stroke corners.front_left.engaged "
    "corners.front_right.load corners.front_right.collar corners.front_right.stroke "
    "corners.front_right.engaged corners.rear_left.load corners.rear_left.collar "
    "corners.rear_left.stroke corners.rear_left.engaged corners.rear_right.load "
    "corners.rear_right.collar corners.rear_right.stroke corners.rear_right.engaged "
    "tools.turn_step tools.ruler tools.calliper tools.height_gauge tools.scale tools.oil_scale "
    "tools.syringe tools.drop weight_scale.slope weight_scale.offset"
)
"""The order in which a link of the second format tells the origins of values, a letter each."""

PATHS_3 = (
    f"{PATHS_2} front.friction front.tyre_rate front.arm.kick_up front.inside.pressure "
    "front.inside.moving rear.friction rear.tyre_rate rear.arm.kick_up rear.inside.pressure "
    "rear.inside.moving"
)
"""Their order in a link of the third format, whose record has more values."""

PATHS_4 = (
    f"{PATHS_3} corners.front_left.damper_length corners.front_right.damper_length "
    "corners.rear_left.damper_length corners.rear_right.damper_length"
)
"""Their order in a link of the fourth format."""
