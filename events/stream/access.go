package stream

import (
	"crypto/rand"

	"github.com/nats-io/nats-server/v2/server"

	"countback/events"
	"countback/events/stream/vault"
)

// Names of those who are no terminals. A terminal cannot have a dot in its
// name.
const (
	ownerUser = "countback.owner" // this program, inside
	guestUser = "countback.guest" // whoever connects without a name
)

// ownerPassword makes a password that lives as long as the server.
func ownerPassword() string { return rand.Text() }

// users lists who may connect to a server that listens. Deleting is for
// nobody but the owner: the stream's own settings against it stop neither the
// removal of the stream nor a limit that is set afterwards.
func users(cfg Config, password string) []*server.User {
	list := []*server.User{
		{Username: ownerUser, Password: password},
		{Username: guestUser, Permissions: permissions(cfg.Shop)},
	}
	for t, password := range cfg.Terminals {
		list = append(list, &server.User{
			Username: string(t), Password: password,
			Permissions: permissions(cfg.Shop, events.TerminalFilter(cfg.Shop, t)),
		})
	}
	return list
}

// permissions allows to read the shop's stream, to back it up, and to publish
// to what is named.
func permissions(shop events.Shop, publish ...string) *server.Permissions {
	name := vault.StreamName(shop)
	publish = append(publish,
		"$JS.API.INFO", "$JS.API.STREAM.NAMES", "$JS.API.STREAM.LIST",
		"$JS.API.STREAM.INFO."+name, "$JS.API.STREAM.MSG.GET."+name,
		"$JS.API.STREAM.SNAPSHOT."+name, "$JS.SNAPSHOT.ACK.>",
		"$JS.API.CONSUMER.CREATE."+name, "$JS.API.CONSUMER.CREATE."+name+".>",
		"$JS.API.CONSUMER.INFO."+name+".*", "$JS.API.CONSUMER.DELETE."+name+".*",
		"$JS.API.CONSUMER.NAMES."+name, "$JS.API.CONSUMER.LIST."+name,
		"$JS.API.CONSUMER.MSG.NEXT."+name+".*", "$JS.ACK."+name+".>", "$JS.FC."+name+".>",
	)
	return &server.Permissions{
		Publish:   &server.SubjectPermission{Allow: publish},
		Subscribe: &server.SubjectPermission{Allow: []string{"_INBOX.>", events.ShopFilter(shop)}},
	}
}
