package compare

import "testing"

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
