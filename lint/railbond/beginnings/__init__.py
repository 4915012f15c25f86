"""First plans, one a file, that `railbond begin` writes for somebody to change; the first line of each says what it is."""
