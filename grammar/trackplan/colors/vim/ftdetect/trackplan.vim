autocmd BufRead,BufNewFile *.trackplan setfiletype trackplan
