package score

import (
	"fmt"
	"path/filepath"
	"strings"
)

// Labels returns one label per path, in order: the file name without folder and extension. A label that an earlier path
// already has gets "-2", "-3" and so on, so that no picture of one photo overwrites that of another.
func Labels(paths []string) []string {
	plain := make([]string, len(paths))
	taken := make(map[string]bool, len(paths))
	for i, path := range paths {
		base := filepath.Base(path)
		plain[i] = strings.TrimSuffix(base, filepath.Ext(base))
		if plain[i] == "" { // a name such as ".jpg" is all extension
			plain[i] = base
		}
		taken[plain[i]] = true
	}
	labels := make([]string, len(paths))
	used := make(map[string]bool, len(paths))
	for i, label := range plain {
		for n := 2; used[label] || (n > 2 && taken[label]); n++ {
			label = fmt.Sprintf("%s-%d", plain[i], n)
		}
		labels[i] = label
		used[label] = true
	}
	return labels
}
