package bay

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"valvegrade/pkg/score"
)

// asOneName makes of a path within an inspection's folder a file name that no other path gives.
var asOneName = strings.NewReplacer("%", "%25", "/", "%2F")

// keepCorrected keeps a photo whose classes somebody painted with its masks, as training takes them: FILE.png,
// FILE.region.png and FILE.deposit.png in the folder Corrected, all upright and of one size; FILE with its ending, because
// a.jpg and a.heic are two photos. What was kept of a photo that is no longer painted is taken away.
func (j *Job) keepCorrected(file string, valves []*score.Result) error {
	dir := filepath.Join(j.dir, Corrected)
	base := filepath.Join(dir, asOneName.Replace(file))
	photo := base + ".png"
	if !painted(valves) {
		var errs []error
		for _, path := range []string{photo, base + score.RegionSuffix, base + score.DepositSuffix} {
			if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
				errs = append(errs, err)
			}
		}
		return errors.Join(errs...)
	}
	if err := os.Mkdir(dir, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return errors.Join(
		score.WritePNG(photo, valves[0].Photo.Pixels),
		score.WritePNG(base+score.RegionSuffix, score.RegionMask(valves)),
		score.WritePNG(base+score.DepositSuffix, score.DepositMask(valves)),
	)
}

// painted reports whether somebody painted a valve that was scored.
func painted(valves []*score.Result) bool {
	for _, r := range valves {
		if r.Status == score.Scored && r.Deposit.Painted > 0 {
			return true
		}
	}
	return false
}
