"""The usual mends of the trade, as edits of a plan and in words for the bench. Rules offer them; they know no rule."""
