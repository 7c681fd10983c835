"""One line of pattern language, read into an instruction tree and written from one."""
