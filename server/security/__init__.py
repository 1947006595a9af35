"""What stands around every request: who may send it, how large it may be, what the browser may do with the answer."""
