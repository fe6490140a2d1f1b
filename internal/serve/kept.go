package serve

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/google/renameio/v2"

	"valvegrade/internal/limit"
)

// Kept is what outlives the program: the port, so that a page finds it again, and the devices that were let in. Of
// each only the hash of its cookie is written down, so whoever reads the file cannot come in by it; it is readable for
// its owner only all the same.
type Kept struct {
	path string

	lock    sync.Mutex
	port    int
	devices map[[sha256.Size]byte]time.Time // until when each is known, by the hash of its cookie's value
}

type keptFile struct {
	Port    int                  `json:"port"`
	Devices map[string]time.Time `json:"devices"`
}

// Keep reads what was kept in dir for the folder that is served. What cannot be read is forgotten: then each device
// types a code again.
func Keep(dir, served string) (*Kept, error) {
	absolute, err := filepath.Abs(served)
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	sum := sha256.Sum256([]byte(absolute))
	k := &Kept{
		path:    filepath.Join(dir, "devices-"+hex.EncodeToString(sum[:6])+".json"),
		devices: map[[sha256.Size]byte]time.Time{},
	}
	text, err := limit.ReadFile(k.path, limit.MarksBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return k, nil
	}
	var file keptFile
	if err != nil || json.Unmarshal(text, &file) != nil {
		return k, nil
	}
	k.port = file.Port
	for text, until := range file.Devices {
		hash, err := hex.DecodeString(text)
		if err == nil && len(hash) == sha256.Size && time.Until(until) <= sessionTime {
			k.devices[[sha256.Size]byte(hash)] = until
		}
	}
	return k, nil
}

// Port is where the page was last, 0 when that is not known.
func (k *Kept) Port() int {
	k.lock.Lock()
	defer k.lock.Unlock()
	return k.port
}

// SetPort keeps where the page is.
func (k *Kept) SetPort(port int) error {
	k.lock.Lock()
	defer k.lock.Unlock()
	k.port = port
	return k.write()
}

// Forget sends all devices away.
func (k *Kept) Forget() error {
	k.lock.Lock()
	defer k.lock.Unlock()
	clear(k.devices)
	return k.write()
}

// write replaces the file. The lock is held. Nothing is written where nothing outlives the program.
func (k *Kept) write() error {
	if k.path == "" {
		return nil
	}
	file := keptFile{Port: k.port, Devices: map[string]time.Time{}}
	for hash, until := range k.devices {
		file.Devices[hex.EncodeToString(hash[:])] = until.Truncate(time.Second)
	}
	text, err := json.Marshal(file)
	if err != nil {
		return err
	}
	if err := renameio.WriteFile(k.path, append(text, '\n'), 0o600); err != nil {
		return fmt.Errorf("the devices that were let in cannot be kept: %w", err)
	}
	return nil
}

// letIn remembers a device; full is true when there are too many.
func (k *Kept) letIn(value string) (full bool) {
	k.lock.Lock()
	defer k.lock.Unlock()
	now := time.Now()
	for hash, until := range k.devices {
		if now.After(until) {
			delete(k.devices, hash)
		}
	}
	if len(k.devices) >= mostSessions {
		return true
	}
	k.devices[sha256.Sum256([]byte(value))] = now.Add(sessionTime)
	_ = k.write() // a device that cannot be kept is let in all the same, until the program ends
	return false
}

// known reports whether a device of this cookie was let in, and not too long ago.
func (k *Kept) known(value string) bool {
	k.lock.Lock()
	defer k.lock.Unlock()
	until, found := k.devices[sha256.Sum256([]byte(value))]
	return found && time.Now().Before(until)
}
