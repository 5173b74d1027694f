package stream

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/nats-io/nats.go/jetstream"

	"countback/events"
	"countback/events/journal"
)

// settings are those of the one stream. Nothing expires, nothing is deleted,
// nothing is compressed (one flipped bit would cost a whole block), and what
// does not fit is refused.
func (s *Stream) settings(replicas int) jetstream.StreamConfig {
	return jetstream.StreamConfig{
		Name:              s.name,
		Description:       "countback: every fact of shop " + string(s.shop),
		Subjects:          []string{events.ShopFilter(s.shop)},
		Storage:           jetstream.FileStorage,
		Retention:         jetstream.LimitsPolicy,
		Discard:           jetstream.DiscardNew,
		Compression:       jetstream.NoCompression,
		Duplicates:        s.timing.Duplicate,
		Replicas:          replicas,
		DenyDelete:        true,
		DenyPurge:         true,
		MaxMsgs:           -1,
		MaxBytes:          s.maxStream,
		MaxMsgsPerSubject: -1,
		MaxConsumers:      -1,
		MaxMsgSize:        -1,
	}
}

// create makes the stream. It never changes one that is there.
func (s *Stream) create(ctx context.Context, replicas int) error {
	_, err := s.js.CreateStream(ctx, s.settings(replicas))
	if err != nil && !errors.Is(err, jetstream.ErrStreamNameAlreadyInUse) {
		return fmt.Errorf("create stream: %w", err)
	}
	return nil
}

// bind looks up the stream, and checks that it keeps what it is given.
func (s *Stream) bind(ctx context.Context) error {
	var err error
	if s.st, err = s.js.Stream(ctx, s.name); err != nil {
		return err
	}
	s.clustered.Store(clustered(s.st.CachedInfo()))
	return s.checkSettings(s.st.CachedInfo().Config)
}

// clustered reports whether a cluster keeps the stream; a single server names
// itself as its leader, and no cluster.
func clustered(info *jetstream.StreamInfo) bool {
	return info.Config.Replicas > 1 || info.Cluster != nil && info.Cluster.Name != ""
}

// state is how far the stream has come.
func (s *Stream) state(ctx context.Context) (jetstream.StreamState, error) {
	asked, cancel := s.ask(ctx)
	defer cancel()
	info, err := s.st.Info(asked)
	if err != nil {
		return jetstream.StreamState{}, err
	}
	s.clustered.Store(clustered(info))
	return info.State, nil
}

// headerRoom is more than the headers of a message can take.
const headerRoom = 1 << 10

// checkSettings refuses a stream that would lose events or hide them.
func (s *Stream) checkSettings(c jetstream.StreamConfig) error {
	var wrong []string
	for _, row := range []struct {
		bad  bool
		what string
	}{
		{len(c.Subjects) != 1 || c.Subjects[0] != events.ShopFilter(s.shop), fmt.Sprintf("subjects %q", c.Subjects)},
		{c.Storage != jetstream.FileStorage, "it is not kept in files"},
		{c.Retention != jetstream.LimitsPolicy, "events go when they were read"},
		{c.Discard != jetstream.DiscardNew, "old events give way to new ones"},
		{c.Compression != jetstream.NoCompression, "it is compressed"},
		{!c.DenyDelete || !c.DenyPurge, "events can be deleted"},
		{c.MaxMsgs > 0, fmt.Sprintf("it holds %d events at most", c.MaxMsgs)},
		{c.MaxMsgsPerSubject > 0, fmt.Sprintf("it holds %d events of a terminal and job at most", c.MaxMsgsPerSubject)},
		{c.MaxAge > 0, fmt.Sprintf("events go after %s", c.MaxAge)},
		{c.AllowRollup, "events can be rolled up"},
		{c.NoAck, "nothing is acknowledged"},
		{c.Mirror != nil || len(c.Sources) > 0, "it is fed from another stream"},
		{c.Sealed, "it is sealed"},
		{c.SubjectTransform != nil, "subjects are changed"},
		{c.PersistMode != jetstream.DefaultPersistMode, "messages are acknowledged before they are written"},
		{c.MaxMsgSize > 0 && c.MaxMsgSize < journal.MaxData+headerRoom, fmt.Sprintf("it takes messages of %d bytes at most", c.MaxMsgSize)},
		{c.AllowDirect, "questions may be answered by a replica that is behind"},
	} {
		if row.bad {
			wrong = append(wrong, row.what)
		}
	}
	if len(wrong) > 0 {
		return fmt.Errorf("settings of stream %s: %s; put them right with: nats stream edit %s", s.name, strings.Join(wrong, ", "), s.name)
	}
	return nil
}
