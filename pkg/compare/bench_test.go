package compare

import "testing"

func BenchmarkView(b *testing.B) {
	r := plainView(patches).result("a")
	for b.Loop() {
		if _, err := NewView(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkViews(b *testing.B) {
	before, err := NewView(plainView(patches).result("a"))
	if err != nil {
		b.Fatal(err)
	}
	after, err := NewView(plainView(turned(patches, 30)).result("b"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Views(before, after, Options{})
	}
}
