package serve

import (
	"context"
	"path/filepath"
	"testing"
)

// Whoever keeps the address of an inspection that is gone is told so, and finds the others.
func anOldAddressLeadsBack(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "first"), "before")
	_, server := start(t, dir, Options{})
	b := visit(t, chromium, server.URL+"/#/gone/photos", 390, 844, "light")
	b.until(t, "document.querySelector('.wait [role=alert]')?.innerText.includes('none of that name')")
	eval[any](t, b, "void document.querySelector('.wait a').click()")
	b.until(t, "document.querySelector('.cards a')")
	eval[any](t, b, "void document.querySelector('.cards a').click()")
	b.until(t, "document.querySelector('.tile')")
}
