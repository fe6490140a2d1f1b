package terminal

import (
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// worthABar is the number of photos above which a progress bar helps more than it disturbs.
const worthABar = 8

// Progress shows how far a batch has come. Its zero value shows nothing.
type Progress struct {
	bar *progressbar.ProgressBar
}

// NewProgress returns a progress bar for so many photos on w, which shows nothing when w is no terminal or the photos
// are few.
func NewProgress(w io.Writer, photos int) *Progress {
	if photos <= worthABar || !IsTerminal(w) {
		return &Progress{}
	}
	return &Progress{bar: progressbar.NewOptions(photos,
		progressbar.OptionSetWriter(w),
		progressbar.OptionSetDescription("scoring"),
		progressbar.OptionShowCount(),
		progressbar.OptionSetPredictTime(true),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionClearOnFinish(),
	)}
}

// Step counts one photo more. A bar that cannot be drawn is no reason to stop the work.
func (p *Progress) Step() {
	if p.bar != nil {
		_ = p.bar.Add(1)
	}
}

// Close takes the bar off the screen.
func (p *Progress) Close() {
	if p.bar != nil {
		_ = p.bar.Clear()
	}
}

// IsTerminal reports whether somebody sees what is written to w.
func IsTerminal(w io.Writer) bool {
	file, ok := w.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}
