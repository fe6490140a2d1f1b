package serve

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// keepsTheRules holds what is on the screen to what every view must keep: its language, axe-core, the width, and targets
// for a glove.
func (b *tab) keepsTheRules(t *testing.T, language string, width int64) {
	t.Helper()
	assert.Equal(t, language, eval[string](t, b, "document.documentElement.lang"))
	assert.Empty(t, b.breaches(t))
	assert.LessOrEqual(t, eval[int](t, b, "document.documentElement.scrollWidth"), int(width))
	assert.Empty(
		t,
		eval[[]string](
			t,
			b,
			`[...document.querySelectorAll('button, a, select, input:not([type=file], [type=checkbox], [type=radio]), .button')]
		.map(e => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.width && r.height && (r.height < 43.5 || r.width < 43.5) && !e.closest('p'))
		.map(([e, r]) => e.outerHTML.slice(0, 90) + ' ' + r.width + 'x' + r.height)`,
		),
		"44 pixels for a glove",
	)
}

// Every view at every width, light and dark: no rule of axe-core is broken, nothing sticks out to the side, and what
// can be pressed is large enough for a glove. With SCREENSHOTS=DIR the views are kept as pictures.
func everyViewKeepsTheRules(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "first"), "before")
	whole(t, filepath.Join(dir, "then"), "after")
	data, err := os.ReadFile("../../testdata/ordinary/brick.jpg")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "then", "wall.jpg"), data, 0o644))
	_, server := start(t, dir, Options{})
	for _, look := range []struct {
		width, height int64
		scheme        string
		language      string
	}{
		{360, 740, "light", "en"}, {360, 740, "dark", "de"}, {800, 1000, "light", "de"}, {1400, 900, "dark", "en"},
		{1400, 900, "light", "de"},
	} {
		b := visit(t, chromium, server.URL+"/", look.width, look.height, look.scheme)
		b.until(t, "document.querySelector('footer select')")
		b.speak(t, look.language)
		for view, hash := range map[string]string{
			"list": "#/", "photos": "#/then/photos", "photo": "#/then/photo/b.jpg", "refused": "#/then/photo/wall.jpg",
			"result": "#/then/result", "compare": "#/then/compare", "report": "#/then/report", "outline": "#/then/photo/a.jpg",
		} {
			name := fmt.Sprintf("%s-%d-%s-%s", view, look.width, look.scheme, look.language)
			t.Run(name, func(t *testing.T) {
				eval[any](t, b, "void (location.hash = "+quote(hash)+")")
				b.until(t, "document.querySelector('main:not(.wait)') && !document.querySelector('.reading')")
				b.until(t, "[...document.querySelectorAll('img:not([loading=lazy])')].every(i => i.complete)")
				if view == "outline" {
					b.button(t, map[string]string{"en": "Outline by hand", "de": "Umriss von Hand"}[look.language])
					b.until(t, "document.querySelector('.handle')")
				}
				b.keepsTheRules(t, look.language, look.width)
				keepPicture(t, b, name)
				if view == "outline" {
					b.button(t, map[string]string{"en": "Draw it anew", "de": "Neu zeichnen"}[look.language])
					b.until(t, "document.querySelector('.trace')")
					b.keepsTheRules(t, look.language, look.width)
					keepPicture(t, b, "trace"+name)
				}
			})
		}
		b.quiet(t)
	}
}
