"""The people of a group, what they must avoid, and the group's own settings and kit."""
