package serve

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// speak chooses a language, as a person does.
func (b *tab) speak(t *testing.T, language string) {
	t.Helper()
	eval[any](t, b, "void (s => { s.value = "+quote(language)+"; s.dispatchEvent(new Event('change', {bubbles: true})) })(document.querySelector('footer select'))")
	b.until(t, "document.documentElement.lang === "+quote(language))
}

// Every language has every word, of its own kind; the page keeps the one that was chosen, and nothing of a view is left
// in English.
func everyLanguageIsSpoken(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "first"), "after")
	whole(t, filepath.Join(dir, "earlier"), "before")
	_, server := start(t, dir, Options{})
	b := visit(t, chromium, server.URL+"/#/first/result", 1200, 900, "light")
	b.until(t, "document.querySelector('footer select')")
	assert.Empty(t, eval[[]string](t, b, `Promise.all([import('/page/words/english.js'), import('/page/words/german.js')]).then(([{english}, {german}]) => {
		const differ = (a, b, path) => typeof a !== typeof b ? [path] : typeof a === 'object' ? [...new Set([...Object.keys(a), ...Object.keys(b)])]
			.filter((key) => key !== 'sentences').flatMap((key) => differ(a[key], b[key], path + '.' + key)) :
			typeof a === 'function' && a.length > b.length && b.length !== 1 ? [path] : [];
		return differ(english, german, 'words');
	})`))
	assert.Empty(t, eval[[]string](t, b, `Promise.all([import('/page/words/english.js'), import('/page/words/german.js')]).then((both) => {
		const of = (words) => Object.values(words).flatMap((word) => typeof word === 'function' ? String(word(1, 1, 1)) : []).concat(words.archiveHolds('1', '1'));
		return both.flatMap(({english, german}) => of(english ?? german)).filter((told) =>
			/\b1 (photos|valves|inspections|vehicles|visits|engines|Fotos|Ventile|Ventilen|Prüfungen|Fahrzeuge|Besuche|Motoren)\b|^(photos|Fotos) /.test(told));
	})`), "one is no more than one")
	b.until(t, "document.querySelector('.work > .loud')?.innerText.startsWith('Grade ')")
	b.speak(t, "de")
	b.until(t, "document.querySelector('.work > .loud')?.innerText.startsWith('Grad ')")
	b.do(t, chromedp.Reload())
	b.until(t, "document.querySelector('.work > .loud')?.innerText.startsWith('Grad ')")
	assert.Equal(t, "dunkle Ablagerung von 91 % auf 0 %: 100 % entfernt (68 bis 100); Index von 50 auf 0, blank", eval[string](t, b,
		"import('/page/words.js').then(({ said }) => said('dark deposit from 91 % to 0 %: 100 % removed (68 to 100); index from 50 to 0, bare'))"))
	for said, alone := range map[string]string{
		"über 3 %": "Über 3\u00a0%", "nicht verglichen": "Nicht verglichen", "c2v1.jpg: näher": "c2v1.jpg: näher",
		"before/c2v1.jpg und c2v2.jpg": "before/c2v1.jpg und c2v2.jpg", "inspection.yaml, Zeile 3": "inspection.yaml, Zeile 3",
		"z. B. unten": "Z. B. unten", "a.jpg ist da": "a.jpg ist da", "kein Bild: eine Datei wie x.jpg": "Kein Bild: eine Datei wie x.jpg",
	} {
		assert.Equal(t, alone, eval[string](t, b, "import('/page/figures.js').then(({ sentence }) => sentence("+quote(said)+"))"))
	}
	assert.Equal(t, "Nur Zylinder 2 ist bewertet: Grad 4. Am schlechtesten von 3 bewerteten: Zylinder 2, Grad 4.", eval[string](t, b,
		"import('/page/words.js').then(({ words }) => [words.worstCylinder(2, 'Grad 4', 1), words.worstCylinder(2, 'Grad 4', 3)].join(' '))"),
		"the number is that of the cylinder, and one is not the worst of any")
	assert.Equal(t, "90.000 mi am 7. Dezember 2025", eval[string](t, b,
		"import('/page/words.js').then(({ said }) => said('90 000 mi on 2025-12-07'))"))
	assert.Equal(t, "vielleicht 4", eval[string](t, b, "import('/page/words.js').then(({ fill, shared }) => fill(shared().perhaps, 4))"))
	assert.Equal(t, "vielleicht 0 bis 3", eval[string](t, b,
		"import('/page/figures.js').then(({ nameWords }) => nameWords({ grade: 1, perhaps: 0, perhaps_to: 3 }))"))
	assert.Equal(t, "what nobody translated", eval[string](t, b,
		"import('/page/words.js').then(({ said }) => said('what nobody translated'))"))
	for _, view := range []string{"photos", "result", "compare", "report", "photo/a.jpg"} {
		eval[any](t, b, "void (location.hash = '#/first/"+view+"')")
		b.until(t, "document.querySelector('main:not(.wait)')")
		words := " " + strings.ToLower(eval[string](t, b, "[...document.querySelectorAll('.bar nav, main, footer label')].map(e => e.innerText).join(' ')")) + " "
		for _, left := range []string{" the ", " and ", " cylinder ", " valve ", " photo ", " with ", " grade ", " cleaning "} {
			assert.NotContains(t, words, left, view)
		}
	}
	assert.Equal(t, "7. Dezember 2025 um 09:00", eval[string](t, b, "import('/page/figures.js').then(({ moment }) => moment('2025-12-07T09:00:00'))"))
	eval[any](t, b, "void (location.hash = '#/first/compare')")
	b.button(t, "Vergleichen")
	b.until(t, "document.querySelectorAll('.changed').length === 2")
	b.until(t, "[...document.querySelectorAll('.changed .loud')].every(e => e.innerText.startsWith('Dunkle Ablagerung '))")
	compared := eval[string](t, b, "[...document.querySelectorAll('.work > p, .changed p')].map(e => e.innerText).join(' ')")
	assert.NotRegexp(t, ` (the|and|one|of|to|no) `, compared)
	assert.NotContains(t, compared, dir, "where the folder lies is nobody's matter")
	text := filepath.Join(dir, "text.jpg") // by its name a photo
	require.NoError(t, os.WriteFile(text, []byte("not a photo"), 0o644))
	eval[any](t, b, "void (location.hash = '#/first/photos')")
	b.until(t, "document.querySelector('.ways')")
	document := call(t, b, dom.GetDocument, dom.GetDocumentParams{})
	chooser := call(t, b, dom.QuerySelector, dom.QuerySelectorParams{NodeID: document.Root.NodeID, Selector: "input[type=file][multiple]"})
	call(t, b, dom.SetFileInputFiles, dom.SetFileInputFilesParams{NodeID: chooser.NodeID, Files: []string{text}})
	b.until(t, "document.querySelector('.failed em')?.textContent.toLowerCase().startsWith('kein bild: der inhalt ist der keines bekannten bildformats: eine fotodatei nehmen')")
	assert.Contains(t, eval[string](t, b, "new Intl.NumberFormat(document.documentElement.lang).format(1234.5)"), "1.234,5")
	_, outside := b.heard() // the browser notes what was refused
	assert.Empty(t, outside)
}

// What an inspection without photos lacks is said in words of the shop, and figures in sentences are written as those beside
// them: with a point in Switzerland.
func anEmptyInspectionSaysWhatItLacks(t *testing.T, chromium context.Context) {
	_, server := start(t, t.TempDir(), Options{Locale: "de-CH"})
	b := visit(t, chromium, server.URL+"/#/here/report", 1000, 1000, "light")
	b.until(t, "document.body.innerText.includes('No photo is given to a valve yet: give each its cylinder and valve')")
	assert.NotContains(t, eval[string](t, b, "document.body.innerText"), "hotos is")
	keepPicture(t, b, "open")
	b.speak(t, "de")
	b.until(t, "document.body.innerText.includes('Noch ist kein Foto einem Ventil zugeordnet: zu jedem Foto Zylinder und Ventil angeben')")
	keepPicture(t, b, "open-de")
	eval[any](t, b, "import('/page/state.js').then(({ say }) => say('a message of the report'))")
	b.until(t, "!document.querySelector('.said').hidden")
	eval[any](t, b, "void (location.hash = '#/here/compare')")
	b.until(t, "document.querySelector('.comparing .open')?.innerText.includes('Bevor verglichen werden kann')")
	assert.True(t, eval[bool](t, b, "document.querySelector('.said').hidden"), "what was said of one view does not lie over the next")
	assert.Equal(t, "der Teller ist 4.7 und 3.0 Schäfte breit", eval[string](t, b,
		"import('/page/words.js').then(({ said }) => said('the head is 4.7 and 3.0 stems wide'))"))
}
