"""The planning problem, its rules, and the independent checker of any plan."""
