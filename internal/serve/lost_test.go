package serve

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/bay"
)

// The network of a shop fails for a while: pictures that did not come are asked for again, and whoever closes the page
// before his photos are sent is asked.
func aWeakNetworkIsBorne(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl2-valve1-before.jpg"})
	bayed, err := bay.Open(dir, bay.Options{Workers: 1})
	require.NoError(t, err)
	defer bayed.Close()
	ready(t, bayed, 1)
	s := New(bayed, Options{})
	var weak atomic.Bool
	weak.Store(true)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if weak.Load() && (strings.Contains(r.URL.Path, "/picture/") || strings.HasSuffix(r.URL.Path, "/photos")) {
			panic(http.ErrAbortHandler) // the connection breaks
		}
		s.ServeHTTP(w, r)
	}))
	defer server.Close()
	defer close(s.ended)
	b := visit(t, chromium, server.URL, 390, 844, "light")
	b.until(t, "[...document.querySelectorAll('.verdict img, .tile img')].some(i => i.complete && !i.naturalWidth)")
	asks := "!dispatchEvent(new Event('beforeunload', {cancelable: true}))"
	assert.False(t, eval[bool](t, b, asks), "nothing is on its way")
	photo, err := os.ReadFile(filepath.Join(demoFolder, "cyl1-valve1-after.jpg"))
	require.NoError(t, err)
	eval[any](t, b, fmt.Sprintf(`void import('/page/bring.js').then(({ bring }) =>
		bring([new File([Uint8Array.from(atob(%q), (c) => c.charCodeAt(0))], 'IMG_2.JPG', { type: 'image/jpeg' })]))`, encoded(photo)))
	b.until(t, "document.querySelector('.bringing li')")
	assert.True(t, eval[bool](t, b, asks), "a photo is on its way")

	weak.Store(false)
	b.until(t, "!document.querySelector('.bringing li')")
	b.until(t, "[...document.querySelectorAll('.verdict img, .tile[data-file=\"IMG_1.JPG\"] img')].every(i => i.naturalWidth > 0)")
	assert.False(t, eval[bool](t, b, asks))
}
