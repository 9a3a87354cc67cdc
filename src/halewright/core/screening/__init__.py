"""From a health screen to limits, ask-first flags, and a verdict on each way of moving."""
