if exists("b:did_ftplugin")
  finish
endif
let b:did_ftplugin = 1
let b:undo_ftplugin = "setlocal commentstring< comments< iskeyword<"
setlocal commentstring=#\ %s comments=:# iskeyword+=-
compiler railbond
