"""The body as sixteen segments, the band's way over it, and what a movement demands."""
