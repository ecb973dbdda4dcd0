"""The linear view of a chain or a line: modes, forced response, critical speeds, and where linearity misleads."""
