package serve

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/inspection"
)

// demoEngine copies the demo engine in one stage with its form, its photos under their names.
func demoEngine(t testing.TB, dir, stage string) {
	t.Helper()
	photos := map[string]string{}
	for cylinder := range 4 {
		for valve := range 2 {
			name := fmt.Sprintf("cyl%d-valve%d-%s.jpg", cylinder+1, valve+1, stage)
			photos[name] = name
		}
	}
	copyDemo(t, dir, photos)
	form, err := os.ReadFile("../../testdata/engine/" + stage + ".yaml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "inspection.yaml"), form, 0o644))
}

// The tab of a comparison begins with what the command says, and with the figures of engine, cylinders and valves.
func theEngineIsCompared(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	demoEngine(t, filepath.Join(dir, "june"), "before")
	demoEngine(t, filepath.Join(dir, "july"), "after")
	_, server := start(t, dir, Options{})
	for _, look := range []struct {
		width                                             int64
		language, earlier, helped, all, third, last, word string
	}{
		{1280, "en", "june, December 7, 2025", "The cleaning helped (", "All valves", "Cylinder 3 changed whip", "Valve 2 index changed 12", "clock positions are rough"},
		{390, "de", "june, 7. Dezember 2025", "Die Reinigung hat geholfen (zu ", "Alle Ventile", "Zylinder 3 geändert whip", "Ventil 2 Index geändert 12", "die Lagen auf der Uhr sind ungenau"},
	} {
		b := visit(t, chromium, server.URL+"/", look.width, 900, "light")
		b.until(t, "document.querySelector('footer select')")
		b.speak(t, look.language)
		eval[any](t, b, "void (location.hash = '#/july/compare')")
		b.until(t, "document.querySelector('.comparing form')")
		assert.Equal(t, look.earlier, eval[string](t, b, "document.querySelector('.comparing option').innerText"))
		eval[any](t, b, "void document.querySelector('.comparing form').requestSubmit()")
		b.until(t, "document.querySelectorAll('.changed').length === 8")
		assert.Contains(t, eval[string](t, b, "document.querySelector('.work > .loud').innerText"), look.helped)
		rows := eval[[]string](t, b, "[...document.querySelectorAll('.changes tbody tr')].map(r => r.innerText.replace(/\\s+/g, ' '))")
		require.Len(t, rows, 1+4*3)
		assert.Regexp(t, "^"+look.all+` (changed|geändert) \d\d % → \d\d % −\d\d \(−\d\d (to|bis) −\d\d\) \d\d → \d\d −\d\d \(`, rows[0])
		assert.Contains(t, rows[7], look.third)
		assert.Contains(t, rows[12], look.last, "the dark deposit may not have changed")
		told := eval[string](t, b, "document.querySelector('.work').innerText")
		assert.Equal(t, 1, strings.Count(told, look.word), "what holds for all valves is told once")
		b.keepsTheRules(t, look.language, look.width)
		keepPicture(t, b, fmt.Sprintf("compared-%d", look.width))
		eval[any](t, b, "void (location.hash = '#/june/result')")
		b.until(t, "document.querySelectorAll('article.valve').length === 8 && !document.querySelector('.reading')")
		eval[any](t, b, "document.querySelectorAll('article.valve')[1].scrollIntoView()")
		keepPicture(t, b, fmt.Sprintf("result-%d", look.width))
		b.quiet(t)
	}
}

// What the photo's own page and the command say of a photo that counts stands beside its valve, too; and a date that the
// page only proposes is not called missing beside the field that shows it.
func theResultTellsCautions(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "first"), "before")
	copyDemo(t, filepath.Join(dir, "new"), map[string]string{"a.jpg": "cyl1-valve1-before.jpg"})
	_, server := start(t, dir, Options{})
	b := visit(t, chromium, server.URL+"/#/first/result", 1280, 900, "light")
	b.until(t, "document.querySelectorAll('article.valve').length === 2 && !document.querySelector('.reading')")
	cautions := "[...document.querySelectorAll('article.valve')].map(v => [...v.querySelectorAll('.doubt')].map(d => d.innerText).join(' '))"
	told := eval[[]string](t, b, cautions)
	assert.Empty(t, told[0])
	assert.Contains(t, told[1], "Valve partly outside: move back so that the whole head is in view")
	assert.Contains(t, eval[string](t, b, "document.querySelector('.result .cautions').innerText"), "Before soaking or blasting: engine cold",
		"the result says what to clean")

	eval[any](t, b, "void (location.hash = '#/new/result')")
	b.until(t, "document.querySelector('.open') && document.querySelector('[name=date]').value")
	open := eval[string](t, b, "document.querySelector('.open').innerText")
	assert.Contains(t, open, "Date: the one in its field is proposed")
	assert.NotContains(t, open, "missing: write the day")
	b.until(t, "document.querySelector('.result .work').innerText.includes('One graded photo is given to no valve and does not count.')")
	keepPicture(t, b, "open-1280")
	b.quiet(t)
}

// The day that is proposed is that of the photos that count, not of one from another year that lies among them.
func aStrayPhotoTellsNoDate(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"c1v1.jpg": "cyl1-valve1-before.jpg"})
	stray, err := os.ReadFile("../../testdata/singles/single-06.jpg")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.jpg"), stray, 0o644))
	form := &inspection.Form{
		Engine: inspection.Layout{Cylinders: 1, Valves: 1}, Photos: []inspection.Entry{{File: "c1v1.jpg", Cylinder: 1, Valves: []int{1}}},
	}
	text, err := form.Write(nil)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, inspection.File), text, 0o644))
	_, server := start(t, dir, Options{})
	b := visit(t, chromium, server.URL+"/#/here/result", 1280, 900, "light")
	b.until(t, "document.querySelectorAll('article.valve').length === 1 && !document.querySelector('.reading')")
	b.until(t, "document.querySelector('.hint')?.innerText.startsWith('One graded photo is given to no valve')")
	assert.Equal(t, "2025-12-07", eval[string](t, b, "document.querySelector('[name=date]').value"))
	b.quiet(t)
}
