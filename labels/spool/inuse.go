package spool

// ErrInUse is in the error of Open while another program has the folder.
var ErrInUse = errHeld
