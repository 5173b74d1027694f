package events

import "fmt"

// Decoder reads stored facts. It remembers what the last fact was like and
// shares equal texts between facts, so each goroutine needs its own. The zero
// Decoder is ready.
type Decoder struct{}

// Decode reads one stored fact into r. Whatever it accepts, Append accepts. A
// kind that this program does not know, or knows with fewer members, is an
// Unknown and no error. After an error r is empty. Data is not kept.
func (d *Decoder) Decode(data []byte, r *Record) error {
	*r = Record{}
	if len(data) > MaxSize {
		return fmt.Errorf("event: %d bytes, more than %d", len(data), MaxSize)
	}
	if err := slowDecode(data, r); err != nil {
		*r = Record{}
		return err
	}
	return nil
}
