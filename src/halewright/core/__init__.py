"""What the trade knows: pure values and functions, without clock, chance, file or framework."""
