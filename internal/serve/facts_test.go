package serve

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/bay"
	"valvegrade/pkg/inspection"
)

// What somebody types stands while photos arrive, and when the program refuses one of the fields.
func whatIsTypedStands(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"c1v1.jpg": "cyl1-valve1-after.jpg"})
	bayed, server := start(t, dir, Options{})
	j := ready(t, bayed, 1)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 1, Valves: 1}, nil))
	b := visit(t, chromium, server.URL+"/#/here/result", 1280, 700, "light")
	b.until(t, "document.querySelector('.sheet-facts')")
	assert.Equal(t, "45210 mi", eval[string](t, b, "document.querySelector('[name=odometer]').placeholder"))
	b.speak(t, "de")
	b.until(t, "document.querySelector('[name=odometer]').placeholder === '45210 km'")
	assert.Contains(t, eval[string](t, b, "Promise.all([import('/page/figures.js'), import('/page/words.js')]).then(([{ advice }, { shared }]) => "+
		"Object.keys(shared().decisions).map((decision) => advice({ decision, certainty: 0.99, practice: 2 }).values.join()).join())"), "24.000–32.000\u00a0km",
		"without a reading the next inspection is in the unit of the language")
	b.speak(t, "en")
	fill := func(name, value string) {
		eval[any](t, b, "void (e => { e.value = "+quote(value)+
			"; e.dispatchEvent(new Event('input', {bubbles: true})) })(document.querySelector('.sheet-facts [name="+name+"]'))")
	}
	typed := func(name string) string {
		return eval[string](t, b, "document.querySelector('.sheet-facts [name="+name+"]').value")
	}
	fill("vehicle", "van 7")
	fill("stage", "after")
	b.until(t, "document.querySelector('[name=method-1]')")
	fill("method-1", "whip")
	copyDemo(t, dir, map[string]string{"c1v1-b.jpg": "cyl1-valve2-after.jpg"})
	ready(t, bayed, 2)
	b.until(t, "document.querySelector('.work > .hint')?.innerText.startsWith('2 ')")
	assert.Equal(t, []string{"van 7", "after", "whip"}, []string{typed("vehicle"), typed("stage"), typed("method-1")}, "a photo arrived")

	fill("odometer", "84,2 km")
	eval[any](t, b, "void document.querySelector('.sheet-facts').requestSubmit()")
	b.until(t, "document.querySelector('.said').innerText.includes('84,2')")
	assert.Equal(t, []string{"van 7", "84,2 km", "whip"}, []string{typed("vehicle"), typed("odometer"), typed("method-1")}, "a field was refused")

	fill("odometer", "84200 km")
	reach := eval[bool](t, b, `(() => {
		const keep = document.querySelector('.sheet-facts .main');
		document.querySelector('.sheet-facts details').open = true;
		keep.scrollIntoView({ block: 'nearest' });
		const { bottom } = keep.getBoundingClientRect();
		return bottom <= innerHeight;
	})()`)
	assert.True(t, reach, "the button below a long form is reached in a low window")
	b.button(t, "Keep")
	require.Eventually(t, func() bool {
		f := j.Sheet().Facts
		return f.Vehicle == "van 7" && f.Odometer == "84200 km" && f.Stage == "after" && f.Methods[1] == "whip"
	}, time.Minute, 20*time.Millisecond)
	b.until(t, "document.querySelector('.bar h1').innerText === 'van 7'")

	text, err := os.ReadFile(filepath.Join(dir, "inspection.yaml"))
	require.NoError(t, err)
	require.NoError(t, j.SetFacts(bay.Facts{Vehicle: "van 8", Odometer: "84200 km", Stage: "after", Cylinders: 1, Valves: 1, Date: j.Sheet().Facts.Date}))
	b.until(t, "document.querySelector('.bar h1').innerText === 'van 8'")
	assert.Equal(t, "van 8", typed("vehicle"), "what was kept follows what others keep: %s", text)
}
