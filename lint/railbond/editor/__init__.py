"""The language server: what the rules know of a plan, in the editor while it is typed.

`texts` holds what is open, `shelf` the plans as they stand by now, `names` who names what, `places` turns places of the
text into the editor's. Every other file is one answer; `server` and `features` speak to the editor.
"""
