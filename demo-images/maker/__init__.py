"""Makes the Saltmarket demo frames; started by ../make.py inside its own Python environment."""
