"""The commands: each asks the desk what its options say and prints the answer."""
