"""The forms, in the order of the job."""

from calc.forms import car as car_record
from calc.forms.collar_turns import form as collar_turns
from calc.forms.corner_loads import form as corner_loads
from calc.forms.drop_test import form as drop_form
from calc.forms.evening_oil import form as evening_oil
from calc.forms.fill_bleed import form as fill_bleed
from calc.forms.hotter import form as hotter
from calc.forms.length_travel import form as length_travel
from calc.forms.motion_ratio import form as motion_ratio
from calc.forms.oil_blend import form as oil_blend
from calc.forms.oil_temperature import form as oil_temperature
from calc.forms.pairing import form as pairing
from calc.forms.piston_oil import form as piston_oil
from calc.forms.ride_frequency import form as ride_frequency
from calc.forms.spring_preload import form as spring_preload
from calc.forms.spring_rate import form as spring_rate
from calc.forms.spring_seats import form as spring_seats
from calc.forms.spring_swap import form as spring_swap
from calc.forms.stroke import form as stroke
from calc.forms.whole_car import form as whole_car
from calc.replying.form import Form

FORMS: tuple[Form, ...] = (
    oil_blend.FORM,
    evening_oil.FORM,
    oil_temperature.FORM,
    piston_oil.FORM,
    stroke.FORM,
    length_travel.FORM,
    fill_bleed.FORM,
    drop_form.FORM,
    pairing.FORM,
    collar_turns.FORM,
    spring_preload.FORM,
    spring_seats.FORM,
    spring_swap.FORM,
    spring_rate.FORM,
    motion_ratio.FORM,
    corner_loads.FORM,
    ride_frequency.FORM,
    whole_car.FORM,
    hotter.FORM,
    car_record.FORM,
)
BY_SLUG = {form.slug: form for form in FORMS}
