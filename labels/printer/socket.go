package printer

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"syscall"
	"time"
)

// Socket is a network printer that takes documents on a raw socket, most often
// at port 9100.
type Socket struct {
	name, address string
	dial          time.Duration
	quiet         time.Duration
}

// Times of a Socket unless set.
const (
	DialTime  = 5 * time.Second
	QuietTime = 10 * time.Second
)

// NewSocket is a printer at host:port. Dial is how long it may take to answer,
// quiet how long it may take nothing, or say nothing at the end; 0 is DialTime
// and QuietTime.
func NewSocket(name, address string, dial, quiet time.Duration) (*Socket, error) {
	if err := checkName(name); err != nil {
		return nil, err
	}
	host, port, err := net.SplitHostPort(address)
	if err != nil || host == "" || port == "" {
		return nil, fmt.Errorf("printer %s: address %q: want host:port, most often port 9100", name, address)
	}
	if _, err := net.LookupPort("tcp", port); err != nil {
		return nil, fmt.Errorf("printer %s: address %q: port %q is none", name, address, port)
	}
	if dial <= 0 {
		dial = DialTime
	}
	if quiet <= 0 {
		quiet = QuietTime
	}
	return &Socket{name, address, dial, quiet}, nil
}

// Name is the printer's name.
func (p *Socket) Name() string { return p.name }

// Print sends the bytes of the file and nothing else, and ends its side of the
// connection.
func (p *Socket) Print(ctx context.Context, f File) error {
	d := net.Dialer{Timeout: p.dial}
	conn, err := d.DialContext(ctx, "tcp", p.address)
	if err != nil {
		return &Held{p.name, fmt.Sprintf("%s: %s", p.address, dialWords(err))}
	}
	defer conn.Close()
	stop := context.AfterFunc(ctx, func() { conn.Close() })
	defer stop()
	if sent, err := p.send(conn, f.Data); err != nil {
		if sent == 0 {
			return &Held{p.name, fmt.Sprintf("%s: took nothing: %s", p.address, plainCause(err))}
		}
		return &Unclear{p.name, fmt.Sprintf("%s: stopped after %d of %d bytes: %s", p.address, sent, len(f.Data), plainCause(err))}
	}
	if err := p.end(conn); err != nil {
		return &Unclear{p.name, fmt.Sprintf("%s: no orderly end after %d bytes: %s", p.address, len(f.Data), plainCause(err))}
	}
	return nil
}

// send writes in parts, so that a printer that takes its time while it prints
// is told from one that takes nothing any more.
func (p *Socket) send(conn net.Conn, data []byte) (sent int, err error) {
	const part = 32 << 10
	for sent < len(data) {
		if err := conn.SetWriteDeadline(time.Now().Add(p.quiet)); err != nil {
			return sent, err
		}
		n, err := conn.Write(data[sent:min(sent+part, len(data))])
		sent += n
		if err != nil {
			return sent, err
		}
	}
	return sent, nil
}

// end says that nothing more comes, and waits until the printer ends its side
// too, or is quiet.
func (p *Socket) end(conn net.Conn) error {
	if half, ok := conn.(interface{ CloseWrite() error }); ok {
		if err := half.CloseWrite(); err != nil {
			return err
		}
	}
	if err := conn.SetReadDeadline(time.Now().Add(p.quiet)); err != nil {
		return err
	}
	_, err := io.Copy(io.Discard, conn) // some printers tell their state
	if !errors.Is(err, os.ErrDeadlineExceeded) {
		return err
	}
	if n := unsent(conn); n > 0 {
		return fmt.Errorf("the last %d bytes were never taken", n)
	}
	return nil
}

// dialWords says what a failed connection means at the printer.
func dialWords(err error) string {
	var dns *net.DNSError
	var timeout net.Error
	switch {
	case errors.As(err, &dns):
		return fmt.Sprintf("no such host %q; check the name", dns.Name)
	case errors.Is(err, syscall.ECONNREFUSED):
		return "connection refused; is it on, and is this the right port?"
	case errors.Is(err, syscall.EHOSTUNREACH), errors.Is(err, syscall.ENETUNREACH):
		return "not reachable; is it on, and is the cable in?"
	case errors.As(err, &timeout) && timeout.Timeout():
		return "does not answer; is it on?"
	}
	return err.Error()
}

// plainCause is the cause without the addresses that net repeats.
func plainCause(err error) string {
	switch {
	case errors.Is(err, syscall.ECONNRESET), errors.Is(err, syscall.EPIPE), errors.Is(err, syscall.ENOTCONN):
		return "it closed the connection"
	case errors.Is(err, os.ErrDeadlineExceeded):
		return "it takes nothing any more"
	case errors.Is(err, net.ErrClosed):
		return "the program was stopped"
	}
	var op *net.OpError
	if errors.As(err, &op) {
		return op.Err.Error()
	}
	return err.Error()
}
