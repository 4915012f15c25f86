"""The schematic of a plan. Track to net (`net`, `skeleton`), net to lanes (`facing`, `crossings`, `turns`,
`lanes`, `spacing`), lanes to lines (`course`), and lines to a picture (`rails`, `marks`, `legend`, `picture`)."""
