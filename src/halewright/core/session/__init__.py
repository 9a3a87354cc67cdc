"""One session: what is done, by whom in which way, and its timeline to the millisecond."""
