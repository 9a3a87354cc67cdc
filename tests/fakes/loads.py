"""A load as it might be computed, with round numbers that can be checked by eye."""

import numpy as np

from halewright.core.mechanics.loads import JointLoad, Load

PHASES = np.linspace(0.0, 1.0, 5)
LOAD = Load(
    strands=1,
    grip_length_m=0.624,
    slack_m=0.624,
    used_m=0.624,
    hands=2,
    closed=False,
    phase_ratios=PHASES,
    length_m=np.ones(5),
    stretch_ratios=np.full(5, 1.5),
    tension_n=np.full(5, 20.0),
    joints={
        "shoulder_flexion_right": JointLoad(
            band_nm=np.array([-1.0, -2.0, -4.0, -6.0, -9.0]),
            weight_nm=np.array([11.0, 8.0, 5.0, 3.0, 2.0]),
            phase_ratios=PHASES,
        ),
        "wrist_flexion_right": JointLoad(
            band_nm=np.full(5, 0.2), weight_nm=np.full(5, 0.1), phase_ratios=PHASES
        ),
    },
    tension_start_n=12.4,
    tension_peak_n=21.0,
    tension_interval_n=(17.2, 24.9),
    peak_phase_ratio=1.0,
    stretch_start_ratio=1.2,
    stretch_end_ratio=1.5,
    stretch_most_ratio=1.5,
    work_j=4.0,
    codes=(),
)
