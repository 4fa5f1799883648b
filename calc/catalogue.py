"""The forms, in the order of the job."""

from calc.form import Form
from calc.forms import (
    car_record,
    collar_turns,
    corner_loads,
    drop_form,
    fill_bleed,
    hotter,
    motion_ratio,
    oil_blend,
    oil_temperature,
    piston_oil,
    ride_frequency,
    spring_preload,
    spring_rate,
    spring_swap,
    stroke,
    whole_car,
)

FORMS: tuple[Form, ...] = (
    oil_blend.FORM,
    oil_temperature.FORM,
    piston_oil.FORM,
    stroke.FORM,
    fill_bleed.FORM,
    drop_form.FORM,
    collar_turns.FORM,
    spring_preload.FORM,
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
