package serve

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"strings"
	"syscall"

	"valvegrade/internal/limit"
	"valvegrade/pkg/bay"
	"valvegrade/pkg/inspection"
)

var errJSON = errors.New("the request cannot be read")

// read takes the body of a request for what it should be, and nothing more.
func read(r *http.Request, into any) error {
	decoder := json.NewDecoder(r.Body)
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(into); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return &limit.TooLarge{Most: large.Limit}
		}
		return fmt.Errorf("%w: %w", errJSON, err)
	}
	return nil
}

func tell(w http.ResponseWriter, answer any) {
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(answer) // who went away needs no answer
}

func fail(w http.ResponseWriter, status int, words string) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(map[string]string{"error": words})
}

// refuse says why something was not done.
func refuse(w http.ResponseWriter, err error) {
	var refused *bay.Refused
	var large *limit.TooLarge
	var path *fs.PathError
	var open *inspection.FileError
	switch {
	case errors.As(err, &open) && len(open.Faults) > 0: // without the folder's path
		fail(w, http.StatusConflict, strings.Replace(err.Error(), open.Error(), inspection.File+": "+open.Faults[0].Text, 1))
	case errors.As(err, &refused):
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(http.StatusUnprocessableEntity)
		_ = json.NewEncoder(w).Encode(map[string]any{"error": refused.Error(), "reason": refused.Reason})
	case errors.Is(err, bay.ErrUnknown):
		fail(w, http.StatusNotFound, err.Error())
	case errors.As(err, &large):
		fail(w, http.StatusRequestEntityTooLarge, err.Error())
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		fail(w, http.StatusInsufficientStorage, "the disk is full: nothing was changed; make room and try again")
	case errors.As(err, &path): // whose name is the shop's business
		fail(w, http.StatusInternalServerError, "the folder cannot be used: "+path.Err.Error())
	default:
		fail(w, http.StatusConflict, err.Error())
	}
}
