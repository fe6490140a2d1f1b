package serve

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The grade of a tile stands beside its valve, and the words of the grade beside its plate, on one line: "0 perhaps 1".
func tilesAreTold(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	demoEngine(t, dir, "after")
	copyDemo(t, dir, map[string]string{"cyl4-valve2-after.jpg": "../singles/single-04.jpg"}) // the earliest, between two grades
	_, server := start(t, dir, Options{})
	for _, look := range []struct {
		width             int64
		language, perhaps string
	}{{360, "en", "perhaps 1"}, {360, "de", "vielleicht 1"}, {800, "en", "perhaps 1"}, {1400, "en", "perhaps 1"}} {
		b := visit(t, chromium, server.URL+"/", look.width, 900, "light")
		b.until(t, "document.querySelector('footer select')")
		b.speak(t, look.language)
		b.until(t, "document.querySelectorAll('.tile.good').length === 8")
		// Tiles that were there before the language was chosen are told anew.
		b.until(t, "document.querySelector('.tile .what').innerText.includes("+quote(look.perhaps)+")")
		assert.Empty(t, eval[[]string](t, b, `[...document.querySelectorAll('.tile.good')].filter((tile) => {
			const [valve, says, plate] = ['.valve', '.says', '.plate'].map((part) => tile.querySelector(part).getBoundingClientRect());
			const words = document.createRange();
			words.selectNodeContents(tile.querySelector('.says'));
			const lines = new Set([...words.getClientRects()].filter((r) => r.width).map((r) => Math.round((r.top + r.bottom) / 2 / 8)));
			return says.bottom < valve.top || says.top > valve.bottom || says.height > 1.4 * plate.height || lines.size > 2;
		}).map((tile) => tile.innerText)`), "%d %s", look.width, look.language)
		assert.Equal(t, 1.0, eval[float64](t, b, `((tile) => { // one that is read anew keeps its place
			tile.className = 'tile reading';
			return tile.querySelector('.frame').getBoundingClientRect().width / tile.getBoundingClientRect().width;
		})(document.querySelector('.tile'))`))
		keepPicture(t, b, fmt.Sprintf("tiles-%d-%s", look.width, look.language))
		b.quiet(t)
	}
}
