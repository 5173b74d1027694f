package stream

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"countback/events/journal"
)

// Codes of the server's refusals, from its errors.json.
const (
	codeWrongLast         = 10071 // wrong last sequence: N
	codeInProcess         = 10164 // wrong last sequence; one is being stored
	codeIDInProcess       = 10158 // duplicate message id is in process
	codeNotReady          = 10163 // expected last sequence per subject temporarily unavailable
	codeInsufficient      = 10023 // insufficient resources
	codeAccountResources  = 10002 // resource limits exceeded for account
	codeStorageResources  = 10047 // insufficient storage resources available
	codeStoreFailed       = 10077 // such as: maximum bytes exceeded
	codeClusterNotAvail   = 10008 // system temporarily unavailable
	codeNotEnabled        = 10076 // system not enabled
	codeStreamUnavailable = 10118 // stream is offline
)

// attempt is one draft on its way.
type attempt struct {
	s      *Stream
	pen    *pen
	draft  journal.Draft
	expect journal.Expect
	whole  bool // the whole stream's last message is expected, not the job's
}

// refused makes the contract's error, or receipt, of a try that was not
// acknowledged. One server checks the expectation before the id, so it
// answers a repeat with a wrong last sequence; a cluster checks the id first
// and answers with a duplicate. Both are settled by looking.
func (a attempt) refused(ctx context.Context, cause error) (journal.Receipt, error) {
	var api *jetstream.APIError
	var wrong *wrongLast
	var early *notSent
	switch {
	case errors.As(cause, &early):
		return journal.Receipt{}, fmt.Errorf("event %s not stored: %w", a.draft.ID(), early.error)
	case errors.As(cause, &wrong):
		return a.wrong(ctx, wrong.have)
	case errors.As(cause, &api):
		return a.answered(ctx, api)
	case errors.Is(cause, journal.ErrOffline), errors.Is(cause, nats.ErrReconnectBufExceeded),
		errors.Is(cause, jetstream.ErrNoStreamResponse), errors.Is(cause, nats.ErrNoResponders):
		return journal.Receipt{}, fmt.Errorf("event %s not stored: %w", a.draft.ID(), offline(cause))
	case errors.Is(cause, nats.ErrMaxPayload):
		return journal.Receipt{}, fmt.Errorf("event %s not stored: %w", a.draft.ID(), cause)
	}
	return journal.Receipt{}, &journal.Unclear{ID: a.draft.ID(), Cause: cause}
}

// answered deals with a refusal that the server gave.
func (a attempt) answered(ctx context.Context, api *jetstream.APIError) (journal.Receipt, error) {
	switch api.ErrorCode {
	case codeInProcess, codeIDInProcess, codeNotReady:
		return journal.Receipt{}, errBusy
	case codeWrongLast:
		if a.whole {
			if r, found, err := a.find(ctx); err != nil || found {
				return r, err
			}
			return journal.Receipt{}, errBusy // another message of the shop came in between
		}
		_, digits, _ := strings.Cut(api.Description, "sequence: ")
		have, err := strconv.ParseUint(digits, 10, 64)
		if err != nil {
			return journal.Receipt{}, &journal.Unclear{ID: a.draft.ID(), Cause: api}
		}
		return a.wrong(ctx, journal.Seq(have))
	case codeInsufficient, codeAccountResources, codeStorageResources, codeStoreFailed:
		return journal.Receipt{}, fmt.Errorf("event %s not stored: %w: %s; allow the server more, or make room", a.draft.ID(), journal.ErrFull, api.Description)
	case codeClusterNotAvail, codeNotEnabled, codeStreamUnavailable:
		return journal.Receipt{}, fmt.Errorf("event %s not stored: %w: %s", a.draft.ID(), journal.ErrOffline, api.Description)
	}
	return journal.Receipt{}, fmt.Errorf("event %s not stored: %w", a.draft.ID(), api)
}

// wrong deals with a last message that is not the expected one: it may be the
// draft's own.
func (a attempt) wrong(ctx context.Context, have journal.Seq) (journal.Receipt, error) {
	r, found, err := a.find(ctx)
	if err != nil || found {
		return r, err
	}
	return r, journal.NewStale(a.draft, a.expect, have)
}

// find looks whether the draft is stored after all.
func (a attempt) find(ctx context.Context) (journal.Receipt, bool, error) {
	a.pen.known = false
	r, found, err := a.s.find(ctx, a.draft)
	if conflict := (*journal.Conflict)(nil); err != nil && !errors.As(err, &conflict) {
		err = &journal.Unclear{ID: a.draft.ID(), Cause: err}
	}
	return r, found, err
}
