"""What can be made this evening."""
