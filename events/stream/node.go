package stream

import (
	"fmt"
	"log/slog"
	"maps"
	"net"
	"slices"
	"strconv"
	"strings"

	"github.com/nats-io/nats-server/v2/server"

	"countback/events"
	"countback/events/journal"
	"countback/events/stream/vault"
)

// Fleet is a shop's own message servers: one, or three and more that keep every
// event on a majority of them.
type Fleet struct {
	Shop      events.Shop
	Nodes     []Member
	Port      int                        // for terminals; 0: 4222
	RoutePort int                        // between the nodes; 0: 6222
	Dir       string                     // of a node's store; 0: /var/lib/countback/node
	Terminals map[events.Terminal]string // may append, each as itself; by password
	Owner     string                     // password of Owner, who makes the stream and brings events into it
	Secret    string                     // that the nodes show each other
}

// Member is one node: its own name, and the address at which it listens, where
// the others and the terminals find it.
type Member struct{ Name, Host string }

// Owner is the user who may make the stream and append for every terminal.
const Owner = ownerUser

// check refuses a fleet that cannot work.
func (f *Fleet) check() error {
	if err := journal.CheckName("shop", string(f.Shop)); err != nil {
		return err
	}
	if n := len(f.Nodes); n != 1 && n != 3 && n != 5 {
		return fmt.Errorf("fleet of %d nodes: want 1, 3 or 5: of an even number no more may fail than of the one below it", n)
	}
	seen := map[string]bool{}
	for _, m := range f.Nodes {
		if err := journal.CheckName("node", m.Name); err != nil {
			return err
		}
		if m.Host == "" || strings.ContainsAny(m.Host, " \t\"\\/@:") {
			return fmt.Errorf("node %s: host %q: want a name or an IPv4 address", m.Name, m.Host)
		}
		if seen[m.Name] {
			return fmt.Errorf("node %s is named twice", m.Name)
		}
		seen[m.Name] = true
	}
	for t, password := range f.Terminals {
		if err := journal.CheckName("terminal", string(t)); err != nil {
			return err
		}
		if err := checkPassword("terminal "+string(t), password); err != nil {
			return err
		}
	}
	if err := checkPassword("owner", f.Owner); err != nil {
		return err
	}
	if len(f.Nodes) > 1 {
		return checkPassword("nodes", f.Secret)
	}
	return nil
}

// checkPassword refuses a password that a configuration or an address would
// read as something else, or that is guessed in an afternoon.
func checkPassword(whose, password string) error {
	word := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_'
	}
	if len(password) < 12 || strings.ContainsFunc(password, func(r rune) bool { return !word(r) }) {
		return fmt.Errorf("password of %s: want 12 and more of A-Z, a-z, 0-9, - and _", whose)
	}
	return nil
}

// Config is the configuration file of one of the nodes, by its index. The server
// syncs every event before it answers, and nobody may delete anything.
func (f Fleet) Config(i int) (string, error) {
	if err := f.check(); err != nil {
		return "", err
	}
	if i < 0 || i >= len(f.Nodes) {
		return "", fmt.Errorf("node %d of %d", i+1, len(f.Nodes))
	}
	port, routes := f.Port, f.RoutePort
	if port == 0 {
		port = 4222
	}
	if routes == 0 {
		routes = 6222
	}
	dir := f.Dir
	if dir == "" {
		dir = "/var/lib/countback/node"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# Node %s of shop %s. Keep it from others: passwords are in it.\n", f.Nodes[i].Name, f.Shop)
	fmt.Fprintf(&b, "server_name: %s\nhost: %s\nport: %d\nmax_payload: %d\n", quoted(f.Nodes[i].Name), quoted(f.Nodes[i].Host), port, journal.MaxData+64<<10)
	fmt.Fprintf(&b, "jetstream {\n  store_dir: %s\n  # Every event is on the disk before it is acknowledged.\n  sync_interval: always\n  max_memory_store: %d\n}\n", quoted(dir), maxMemory)
	if len(f.Nodes) > 1 {
		f.cluster(&b, i, routes)
	}
	f.users(&b)
	return b.String(), nil
}

func (f *Fleet) cluster(b *strings.Builder, i, port int) {
	fmt.Fprintf(b, "cluster {\n  name: %s\n  host: %s\n  port: %d\n  authorization { user: node, password: %s, timeout: 5 }\n  routes: [\n", quoted("countback-"+string(f.Shop)), quoted(f.Nodes[i].Host), port, quoted(f.Secret))
	for k, m := range f.Nodes {
		if k != i {
			fmt.Fprintf(b, "    %s\n", quoted("nats-route://node:"+f.Secret+"@"+net.JoinHostPort(m.Host, strconv.Itoa(port))))
		}
	}
	b.WriteString("  ]\n}\n")
}

// users writes who may do what: the same as in a server inside a terminal.
func (f *Fleet) users(b *strings.Builder) {
	b.WriteString("# Whoever connects without a name may read.\nno_auth_user: " + quoted(guestUser) + "\nauthorization {\n  users: [\n")
	fmt.Fprintf(b, "    { user: %s, password: %s }\n", quoted(ownerUser), quoted(f.Owner))
	fmt.Fprintf(b, "    { user: %s, password: \"\", permissions: %s }\n", quoted(guestUser), permitted(permissions(f.Shop)))
	for _, t := range slices.Sorted(maps.Keys(f.Terminals)) {
		fmt.Fprintf(b, "    { user: %s, password: %s, permissions: %s }\n", quoted(string(t)), quoted(f.Terminals[t]), permitted(permissions(f.Shop, events.TerminalFilter(f.Shop, t))))
	}
	b.WriteString("  ]\n}\n")
}

func permitted(p *server.Permissions) string {
	list := func(s *server.SubjectPermission) string {
		words := make([]string, len(s.Allow))
		for i, w := range s.Allow {
			words[i] = quoted(w)
		}
		return "{ allow: [" + strings.Join(words, ", ") + "] }"
	}
	return "{ publish: " + list(p.Publish) + ", subscribe: " + list(p.Subscribe) + " }"
}

func quoted(s string) string { return strconv.Quote(s) }

// Node is one message server that runs in this process by a configuration file.
type Node struct{ srv *server.Server }

// StartNode runs a server by a configuration file, one of Fleet's or another,
// and returns when terminals can connect to it. What the file says and a store
// of events cannot live with is refused.
func StartNode(file string, log *slog.Logger) (*Node, error) {
	opts, err := server.ProcessConfigFile(file)
	if err != nil {
		return nil, fmt.Errorf("node: %w", err)
	}
	if !opts.JetStream || !opts.SyncAlways {
		return nil, fmt.Errorf("node %s: jetstream with sync_interval: always is wanted, so that what is acknowledged is on the disk", file)
	}
	opts.NoSigs, opts.NoLog, opts.DisableJetStreamBanner = true, true, true
	srv, err := server.NewServer(opts)
	if err != nil {
		return nil, fmt.Errorf("node %s: %w", file, err)
	}
	lines := &serverLog{log: log}
	srv.SetLoggerV2(lines, false, false, false)
	srv.Start()
	if !srv.ReadyForConnections(startWithin) || !srv.JetStreamEnabled() {
		stop(srv)
		return nil, fmt.Errorf("node %s does not start: %s", file, lines.reason())
	}
	return &Node{srv}, nil
}

// Addr is where terminals connect.
func (n *Node) Addr() string { return n.srv.Addr().String() }

// Health says what the node finds wrong with itself; nil if nothing.
func (n *Node) Health() error { return sick(n.srv) }

// Stop ends the node and waits until it has let go of its files.
func (n *Node) Stop() { stop(n.srv) }

// StreamName is what the stream of a shop is called on a server.
func StreamName(shop events.Shop) string { return vault.StreamName(shop) }
