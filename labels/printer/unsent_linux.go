package printer

import (
	"net"
	"syscall"

	"golang.org/x/sys/unix"
)

// unsent is how many bytes of a connection the other side has not yet
// acknowledged; 0 if the system does not say.
func unsent(conn net.Conn) int {
	c, ok := conn.(syscall.Conn)
	if !ok {
		return 0
	}
	raw, err := c.SyscallConn()
	if err != nil {
		return 0
	}
	n := 0
	if err := raw.Control(func(fd uintptr) {
		if got, err := unix.IoctlGetInt(int(fd), unix.SIOCOUTQ); err == nil {
			n = got
		}
	}); err != nil {
		return 0
	}
	return n
}
