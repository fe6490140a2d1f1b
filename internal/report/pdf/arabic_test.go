package pdf

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The forms are those of the Unicode code chart Arabic Presentation Forms-B (U+FE70 to U+FEFF); which one stands where
// follows the joining rules of The Unicode Standard, section 9.2.
func TestArabicLettersJoin(t *testing.T) {
	for text, want := range map[string]string{
		"محمد":              "\ufee3\ufea4\ufee4\ufeaa", // meem initial, hah medial, meem medial, dal final
		"سلام":              "\ufeb3\ufefc\ufee1",       // seen initial, lam with alef final, meem isolated: alef does not join onward
		"لا":                "\ufefb",                   // lam with alef isolated
		"دار":               "\ufea9\ufe8d\ufead",       // dal, alef and reh join only to what stands before
		"ب":                 "\ufe8f",
		"بِب":               "\ufe91\u0650\ufe90", // a vowel mark does not part letters
		"ب\u200cب":          "\ufe8f\u200c\ufe8f", // the non-joiner does
		"بـ":                "\ufe91\u0640",       // a drawn-out stroke joins
		"على":               "\ufecb\ufee0\ufef0", // ain initial, lam medial, alef maksura final
		"ى":                 "\ufeef",
		"ء":                 "\ufe80", // hamza joins nothing
		"بء":                "\ufe8f\ufe80",
		"گچ":                "\ufb94\ufb7b", // Persian gaf initial, tcheh final (Presentation Forms-A)
		"no 12 Arabic here": "no 12 Arabic here",
		"":                  "",
	} {
		assert.Equal(t, want, joined(text), "%q", text)
	}
}
