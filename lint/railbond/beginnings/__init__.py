"""First plans that `railbond begin` writes for somebody to change; the first line of each tells what it is."""
