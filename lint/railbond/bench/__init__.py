"""The bench: what is to be soldered, what may go wrong there, and what a meter then reads."""
