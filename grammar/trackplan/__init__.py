"""The plan language: its grammar, its statements and edits of its text. Knows nothing about electricity."""
