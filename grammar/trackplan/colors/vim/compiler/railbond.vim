" `:make` inspects the plan, and the quickfix list jumps to what is found (the GNU error format).
if exists("current_compiler")
  finish
endif
let current_compiler = "railbond"
CompilerSet makeprg=railbond\ inspect\ %:S
CompilerSet errorformat=%f:%l:%c:\ %trror:\ %m,%f:%l:%c:\ %tarning:\ %m,%f:%l:%c:\ %tote:\ %m,%-G%.%#
