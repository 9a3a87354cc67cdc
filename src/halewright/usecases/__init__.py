"""What people do: one module per subject, one function per act."""
