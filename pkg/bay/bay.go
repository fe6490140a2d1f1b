package bay

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/folder"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/report"
	"valvegrade/pkg/score"
)

// Options say how a Bay works. The zero value is right for everyday use.
type Options struct {
	score.Options
	// Workers is the number of photos measured at the same time; 0 means one per usable core.
	Workers int
	// Archive is what the shop knows of earlier visits; nil for none. It stays the caller's to close, after Close.
	Archive *archive.Archive
	// Shop is who writes the reports; everything in it may be empty.
	Shop report.Shop
}

// Errors of what is asked for by name, and of what cannot be done.
var (
	ErrUnknown = errors.New("there is none of that name")
	ErrName    = errors.New("the name cannot be that of a folder: use letters, digits, blanks, - and _")
	ErrExists  = errors.New("there is one of that name already")
)

// Bay is a folder of inspections, or one inspection.
type Bay struct {
	dir     string
	options Options
	queue   *queue
	watcher *fsnotify.Watcher
	stop    chan struct{}
	ended   sync.WaitGroup

	built built
	// redrawing draws for all jobs.
	redrawing redrawing

	lock sync.Mutex
	jobs map[string]*Job // by ID
}

// Corrected is the folder in an inspection's in which photos are kept with masks that were corrected by hand.
const Corrected = "corrected"

// Here is the ID of the inspection that is the folder itself.
const Here = "here"

// Open begins to work in a folder, which must exist. Close ends it.
func Open(dir string, o Options) (*Bay, error) {
	info, err := os.Stat(dir)
	if err != nil {
		return nil, err
	}
	if !info.IsDir() {
		return nil, &fs.PathError{Op: "open", Path: dir, Err: errors.New("not a folder")}
	}
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return nil, err
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	b := &Bay{
		dir: dir, options: o, queue: newQueue(), watcher: watcher, stop: make(chan struct{}), jobs: map[string]*Job{},
		redrawing: redrawing{worker: score.NewWorker(o.Options)},
	}
	for range o.Workers {
		b.ended.Go(b.work)
	}
	b.ended.Go(b.watch)
	return b, nil
}

// Close stops watching and grading, and writes what is left to be written.
func (b *Bay) Close() error {
	close(b.stop)
	b.queue.close()
	err := b.watcher.Close()
	b.ended.Wait()
	b.redrawing.close()
	b.lock.Lock()
	defer b.lock.Unlock()
	for _, j := range b.jobs {
		err = errors.Join(err, j.writeResults())
	}
	return err
}

// Version is that of program and nets.
func (b *Bay) Version() string { return b.options.Version() }

// IDs lists the inspections, the folder itself first and then by name. An empty folder is an inspection that has not
// begun.
func (b *Bay) IDs() ([]string, error) {
	entries, err := os.ReadDir(b.dir)
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, entry := range entries {
		if b.isInspection(entry) {
			ids = append(ids, entry.Name())
		}
	}
	slices.SortFunc(ids, inspection.CompareNames)
	own, err := folder.Photos(b.dir)
	if err != nil {
		return nil, err
	}
	_, formless := os.Stat(filepath.Join(b.dir, inspection.File))
	if len(own) > 0 || formless == nil || len(ids) == 0 {
		ids = append([]string{Here}, ids...)
	}
	return ids, nil
}

// isInspection reports whether an entry of the folder is one: a folder with inspection.yaml or with photos, which
// belongs to no cylinder.
func (b *Bay) isInspection(entry fs.DirEntry) bool {
	if !entry.IsDir() || strings.HasPrefix(entry.Name(), ".") || folder.IsPart(b.dir, entry) ||
		entry.Name() == Corrected {
		return false
	}
	dir := filepath.Join(b.dir, entry.Name())
	if _, err := os.Stat(filepath.Join(dir, inspection.File)); err == nil {
		return true
	}
	photos, err := folder.Photos(dir)
	if err != nil {
		return false
	}
	empty, _ := os.ReadDir(dir)
	return len(photos) > 0 || len(empty) == 0
}

// Job returns the inspection of an ID.
func (b *Bay) Job(id string) (*Job, error) {
	b.lock.Lock()
	defer b.lock.Unlock()
	if j, known := b.jobs[id]; known {
		return j, nil
	}
	ids, err := b.IDs()
	if err != nil {
		return nil, err
	}
	if !slices.Contains(ids, id) {
		return nil, ErrUnknown
	}
	j, err := newJob(b, id, b.folderOf(id))
	if err != nil {
		return nil, err
	}
	b.jobs[id] = j
	return j, nil
}

func (b *Bay) folderOf(id string) string {
	if id == Here {
		return b.dir
	}
	return filepath.Join(b.dir, id)
}

// mostName is how long the name of a new folder may be, in bytes.
const mostName = 80

// Create begins an inspection in a folder of its own. The ID is its name.
func (b *Bay) Create(name string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" || len(name) > mostName || strings.ContainsFunc(name, unfitForName) || name == Here ||
		name == Corrected ||
		strings.HasPrefix(name, ".") {
		return "", ErrName
	}
	err := os.Mkdir(filepath.Join(b.dir, name), 0o755)
	if errors.Is(err, fs.ErrExist) {
		return "", ErrExists
	}
	return name, err
}

// Card is an inspection in the list.
type Card struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	Vehicle string `json:"vehicle"`
	Date    string `json:"date"`
	Stage   string `json:"stage"`
	Photos  int    `json:"photos"`
	// Changed is when something in the folder was written last.
	Changed time.Time `json:"changed"`
}

// Cards lists the inspections, the one that was worked on last first.
func (b *Bay) Cards() ([]Card, error) {
	ids, err := b.IDs()
	if err != nil {
		return nil, err
	}
	cards := []Card{}
	for _, id := range ids {
		dir := b.folderOf(id)
		card := Card{ID: id, Name: id}
		if id == Here {
			card.Name = b.Name()
		}
		if photos, err := folder.Photos(dir); err == nil {
			card.Photos = len(photos)
		}
		if info, err := os.Stat(dir); err == nil {
			card.Changed = info.ModTime()
		}
		if form, _, err := inspection.ReadForm(dir); err == nil {
			card.Vehicle, card.Date, card.Stage = form.Vehicle, form.Date, string(form.Stage)
		}
		cards = append(cards, card)
	}
	slices.SortStableFunc(cards, func(a, b Card) int { return b.Changed.Compare(a.Changed) })
	return cards, nil
}

// Name is that of the folder.
func (b *Bay) Name() string {
	absolute, err := filepath.Abs(b.dir)
	if err != nil {
		return b.dir
	}
	return filepath.Base(absolute)
}
