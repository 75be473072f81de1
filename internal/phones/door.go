package phones

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strconv"
	"sync"
)

// DefaultAddress is where the door of the phones is opened, when somebody asks for it.
const DefaultAddress = "0.0.0.0:7475"

// door is where phones come in.
type door struct {
	lock     sync.Mutex
	listener net.Listener
	server   *http.Server
}

// Open listens on an address and serves phones there until Close. It does nothing when the door is open already.
func (p *Phones) Open(ctx context.Context, address string, server *http.Server) error {
	p.door.lock.Lock()
	defer p.door.lock.Unlock()
	if p.door.listener != nil {
		return nil
	}
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp", address)
	if err != nil {
		return fmt.Errorf("open a door for phones on %s: %w", address, err)
	}
	p.door.listener, p.door.server = listener, server
	go func() {
		// Ends with ErrServerClosed when the door is closed; any other end closes it.
		if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
			p.door.lock.Lock()
			defer p.door.lock.Unlock()
			if p.door.listener == listener {
				p.door.listener, p.door.server = nil, nil
			}
		}
	}()
	return nil
}

// Close shuts the door; requests under way are cut. It may be opened again with another server.
func (p *Phones) Close() error {
	p.door.lock.Lock()
	defer p.door.lock.Unlock()
	if p.door.server == nil {
		return nil
	}
	err := p.door.server.Close()
	p.door.listener, p.door.server = nil, nil
	if err != nil {
		return fmt.Errorf("close the door for phones: %w", err)
	}
	return nil
}

// Addresses returns where phones find the door, such as "http://192.168.1.20:7475", those of the shop's own network first; none
// while it is closed.
func (p *Phones) Addresses() ([]string, error) {
	p.door.lock.Lock()
	defer p.door.lock.Unlock()
	if p.door.listener == nil {
		return nil, nil
	}
	at, ok := p.door.listener.Addr().(*net.TCPAddr)
	if !ok {
		return nil, nil
	}
	found := []netip.Addr{at.AddrPort().Addr().Unmap()}
	if at.IP.IsUnspecified() {
		all, err := net.InterfaceAddrs()
		if err != nil {
			return nil, fmt.Errorf("list the addresses of this machine: %w", err)
		}
		found = reachable(all)
	}
	var out []string
	for _, a := range found {
		out = append(out, "http://"+net.JoinHostPort(a.String(), strconv.Itoa(at.Port)))
	}
	return out, nil
}

// reachable returns the addresses of a machine that another in the shop may call, private ones first, in a fixed order.
func reachable(all []net.Addr) []netip.Addr {
	var out []netip.Addr
	for _, a := range all {
		prefix, err := netip.ParsePrefix(a.String())
		if err != nil {
			continue
		}
		if x := prefix.Addr().Unmap(); x.Is4() && !x.IsLoopback() && !x.IsLinkLocalUnicast() {
			out = append(out, x)
		}
	}
	slices.SortFunc(out, func(a, b netip.Addr) int {
		if a.IsPrivate() != b.IsPrivate() {
			if a.IsPrivate() {
				return -1
			}
			return 1
		}
		return a.Compare(b)
	})
	return out
}
