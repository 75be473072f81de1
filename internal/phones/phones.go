// Package phones lets phones in the shop reach the bench cards, and nothing else.
//
// A code is made at the desk, is good for some minutes and for one phone. The phone hands it in once and gets a token, which is
// good for some weeks, is shown at the desk and can be taken back. Gate stands before the handler of the program on a door of its
// own: it answers to the address that was called and to no name, lets what holds no data through, and lets a phone with a token read
// cards, tick and note. Open makes that door; until somebody asks for it there is none.
//
// Tokens are kept as their sums, so that a copied data file opens no door. Without https what a phone sends can be read by others
// in the same network: see docs/methods/cards.md.
package phones

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"time"
)

const (
	// codeGood is how long a code may be used. Judgement: time to walk to the bench with the phone.
	codeGood = 10 * time.Minute
	// tokenGood is how long a phone stays known. Judgement: a piece takes some weeks of evenings.
	tokenGood = 30 * 24 * time.Hour
	// mostWrong is how many wrong codes are taken before all open codes are void. 10 tries at 30^8 codes.
	mostWrong = 10
	// mostCodes is how many codes may be open at a time, the newest. Judgement: one for every pair of a class.
	mostCodes = 20
	// seenEvery is how often it is noted that a phone was seen.
	seenEvery = time.Hour
	// settingKey is where known phones are kept.
	settingKey = "phones"
)

// The reasons for not taking a code.
var (
	ErrWrong   = errors.New("this code is not known: read it again, capitals and digits")
	ErrUsed    = errors.New("this code was used already: each is good for one phone, ask for another at the desk")
	ErrExpired = errors.New("this code has run out: ask for another at the desk")
	ErrTooMany = errors.New("too many wrong codes: ask for a new code at the desk")
	// ErrUnknown says that no phone of that id is known.
	ErrUnknown = errors.New("no such phone is known")
)

// Keep keeps what must outlive the program, under a key.
type Keep interface {
	Setting(ctx context.Context, key string) (string, error)
	SetSetting(ctx context.Context, key, value string) error
}

// Phone is a phone that may reach the cards.
type Phone struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"` // "phone 2"
	Sum     string    `json:"sum"`  // of its token, SHA-256
	Joined  time.Time `json:"joined"`
	Seen    time.Time `json:"seen"`
	Expires time.Time `json:"expires"`
}

// Code is a one-time code.
type Code struct {
	Text    string // "7KQM-29XD"
	Expires time.Time
}

// code is a code that was given out.
type code struct {
	sum     [sha256.Size]byte
	expires time.Time
	used    bool
}

// Phones knows codes and phones. Make one with New. It is safe for use by several goroutines.
type Phones struct {
	keep  Keep
	now   func() time.Time
	hosts []string

	lock  sync.Mutex
	codes []code
	wrong int

	known []Phone
	read  bool

	door door
}

// New returns phones that are kept by keep. now is the clock; nil means time.Now. hosts are names that Gate answers to besides the
// address that was called.
func New(keep Keep, now func() time.Time, hosts []string) *Phones {
	if now == nil {
		now = time.Now
	}
	return &Phones{keep: keep, now: now, hosts: hosts}
}

// letters are those of a code: none that looks like another.
const letters = "23456789ABCDEFGHJKMNPQRTUVWXYZ"

const codeLength = 8

// NewCode makes a code for one phone.
func (p *Phones) NewCode() Code {
	text := make([]byte, 0, codeLength)
	for len(text) < codeLength {
		var b [1]byte
		_, _ = rand.Read(b[:]) // never fails: see crypto/rand
		if int(b[0]) < 256/len(letters)*len(letters) {
			text = append(text, letters[int(b[0])%len(letters)])
		}
	}
	p.lock.Lock()
	defer p.lock.Unlock()
	c := Code{Text: string(text[:4]) + "-" + string(text[4:]), Expires: p.now().Add(codeGood)}
	p.codes = append(p.codes, code{sum: sumOf(plain(c.Text)), expires: c.Expires})
	if n := len(p.codes) - mostCodes; n > 0 {
		p.codes = slices.Delete(p.codes, 0, n)
	}
	p.wrong = 0
	return c
}

// plain takes what does not count out of a code as it was typed.
func plain(typed string) string {
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(letters, r) {
			return r
		}
		return -1
	}, strings.ToUpper(typed))
}

func sumOf(text string) [sha256.Size]byte { return sha256.Sum256([]byte(text)) }

// Join takes a code once and returns the token that the phone shows from then on.
func (p *Phones) Join(ctx context.Context, typed string) (token string, phone Phone, err error) {
	p.lock.Lock()
	defer p.lock.Unlock()
	if p.wrong >= mostWrong {
		return "", Phone{}, ErrTooMany
	}
	sum := sumOf(plain(typed))
	k := slices.IndexFunc(p.codes, func(c code) bool { return c.sum == sum })
	switch {
	case k < 0:
		if p.wrong++; p.wrong >= mostWrong {
			p.codes = nil
		}
		return "", Phone{}, ErrWrong
	case p.codes[k].used:
		return "", Phone{}, ErrUsed
	case p.now().After(p.codes[k].expires):
		return "", Phone{}, ErrExpired
	}
	if err := p.load(ctx); err != nil {
		return "", Phone{}, err
	}
	p.codes[k].used = true
	now := p.now().UTC()
	token = rand.Text()
	phone = Phone{ID: strings.ToLower(rand.Text()[:10]), Name: p.freeName(), Sum: tokenSum(token), Joined: now, Seen: now, Expires: now.Add(tokenGood)}
	p.known = append(p.known, phone)
	return token, phone, p.save(ctx)
}

func tokenSum(token string) string {
	sum := sumOf(token)
	return hex.EncodeToString(sum[:])
}

// freeName returns the lowest "phone n" that no known phone has.
func (p *Phones) freeName() string {
	for n := 1; ; n++ {
		name := fmt.Sprintf("phone %d", n)
		if !slices.ContainsFunc(p.known, func(x Phone) bool { return x.Name == name }) {
			return name
		}
	}
}

// Of returns the phone of a token; false for one that is not known, was taken back or has run out.
func (p *Phones) Of(ctx context.Context, token string) (Phone, bool, error) {
	p.lock.Lock()
	defer p.lock.Unlock()
	if err := p.load(ctx); err != nil {
		return Phone{}, false, err
	}
	sum, now := tokenSum(token), p.now().UTC()
	k := slices.IndexFunc(p.known, func(x Phone) bool { return x.Sum == sum })
	if k < 0 || now.After(p.known[k].Expires) {
		return Phone{}, false, nil
	}
	if now.Sub(p.known[k].Seen) >= seenEvery {
		p.known[k].Seen = now
		if err := p.save(ctx); err != nil {
			return Phone{}, false, err
		}
	}
	return p.known[k], true, nil
}

// List returns the phones that are known and have not run out, the first to join first.
func (p *Phones) List(ctx context.Context) ([]Phone, error) {
	p.lock.Lock()
	defer p.lock.Unlock()
	if err := p.load(ctx); err != nil {
		return nil, err
	}
	return slices.Clone(p.known), nil
}

// Revoke forgets a phone. Its token opens nothing from then on.
func (p *Phones) Revoke(ctx context.Context, id string) error {
	p.lock.Lock()
	defer p.lock.Unlock()
	if err := p.load(ctx); err != nil {
		return err
	}
	k := slices.IndexFunc(p.known, func(x Phone) bool { return x.ID == id })
	if k < 0 {
		return ErrUnknown
	}
	p.known = slices.Delete(p.known, k, k+1)
	return p.save(ctx)
}

// load reads the known phones once, and drops those that have run out.
func (p *Phones) load(ctx context.Context) error {
	if !p.read {
		text, err := p.keep.Setting(ctx, settingKey)
		if err != nil {
			return err
		}
		if text != "" {
			if err := json.Unmarshal([]byte(text), &p.known); err != nil {
				return fmt.Errorf("read the known phones: %w", err)
			}
		}
		p.read = true
	}
	now := p.now()
	p.known = slices.DeleteFunc(p.known, func(x Phone) bool { return now.After(x.Expires) })
	return nil
}

func (p *Phones) save(ctx context.Context) error {
	text, err := json.Marshal(p.known)
	if err != nil {
		return fmt.Errorf("write the known phones: %w", err)
	}
	return p.keep.SetSetting(ctx, settingKey, string(text))
}
