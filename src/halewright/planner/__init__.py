"""From a planning problem to a plan; the only package that speaks to the solver."""
