package serve

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base32"
	"net/http"
	"strings"
	"sync"
	"time"

	"golang.org/x/time/rate"
)

const (
	cookieName = "__Host-valvegrade"
	// sessionTime is how long somebody who typed the code is known: a working day.
	sessionTime = 12 * time.Hour
	// mostSessions bounds what is remembered.
	mostSessions = 100
	// codeLetters are 40 bits: at five tries a minute nobody guesses one.
	codeLetters = 8
)

// Sessions know who typed the code. Each code lets one device in; then there is another. Safe for concurrent use.
type Sessions struct {
	show func(code string)
	try  *rate.Limiter
	kept *Kept

	lock sync.Mutex
	code string
}

// NewSessions shows the first code, and after each use the next one. Devices are known over a restart by what is kept;
// with nil until the program ends.
func NewSessions(kept *Kept, show func(code string)) *Sessions {
	if kept == nil {
		kept = &Kept{devices: map[[sha256.Size]byte]time.Time{}}
	}
	s := &Sessions{show: show, kept: kept, try: rate.NewLimiter(rate.Every(12*time.Second), 5)}
	s.renew()
	return s
}

// renew makes another code. The lock is held, or nobody else knows the sessions yet.
func (s *Sessions) renew() {
	s.code = random(5)
	s.show(s.code[:codeLetters/2] + "-" + s.code[codeLetters/2:])
}

// letters are those of base 32 without what looks like another: Crockford's.
var letters = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

func random(bytes int) string {
	data := make([]byte, bytes)
	_, _ = rand.Read(data) // never fails
	return letters.EncodeToString(data)
}

// misread are letters that people read as others.
var misread = strings.NewReplacer("O", "0", "I", "1", "L", "1", "-", "", " ", "")

// enter lets a device in that knows the code; ok is false for a wrong one, slow for one tried too soon after others.
func (s *Sessions) enter(code string) (cookie *http.Cookie, ok, slow bool) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if !s.try.Allow() {
		return nil, false, true
	}
	code = misread.Replace(strings.ToUpper(code))
	if subtle.ConstantTimeCompare([]byte(code), []byte(s.code)) != 1 {
		return nil, false, false
	}
	value := random(32)
	if s.kept.letIn(value) {
		return nil, false, true
	}
	s.renew()
	return &http.Cookie{
		Name: cookieName, Value: value, Path: "/", MaxAge: int(sessionTime.Seconds()), Secure: true, HttpOnly: true,
		SameSite: http.SameSiteStrictMode,
	}, true, false
}

// known reports whether the request comes from a device that was let in.
func (s *Sessions) known(r *http.Request) bool {
	cookie, err := r.Cookie(cookieName)
	return err == nil && s.kept.known(cookie.Value)
}
