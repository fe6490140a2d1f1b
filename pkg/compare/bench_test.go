package compare

import (
	"testing"

	"valvegrade/pkg/deposit"
)

func BenchmarkMap(b *testing.B) {
	r := plainView(patches).result("a")
	for b.Loop() {
		viewOf(b, r)
	}
}

func BenchmarkViews(b *testing.B) {
	before, after := viewOf(b, plainView(patches).result("a")), viewOf(b, plainView(turned(patches, 30)).result("b"))
	for b.Loop() {
		Views(before, after, Options{})
	}
}

// BenchmarkPairsOfAHundredPhotos orders the pairs of a hundred photos of a valve before and after; of what it costs beside
// that, laying mostPairs of them on each other, BenchmarkViews tells.
func BenchmarkPairsOfAHundredPhotos(b *testing.B) {
	many := func(class func(angle, radius float64) uint8) []*View {
		var views []*View
		for range 100 {
			views = append(views, viewOf(b, plainView(class).result("copy")))
		}
		return views
	}
	first, second := many(patches), many(all(deposit.Bare))
	for b.Loop() {
		pairsOf(first, second)
	}
}
