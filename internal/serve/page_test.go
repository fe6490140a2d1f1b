package serve

import (
	"context"
	"fmt"
	"net"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/bay"
	"valvegrade/pkg/inspection"
)

func TestPageInABrowser(t *testing.T) {
	chromium := browser(t)
	t.Run("arrival", func(t *testing.T) { photosArrive(t, chromium) })
	t.Run("steady", func(t *testing.T) { theSheetStandsWhilePhotosArrive(t, chromium) })
	t.Run("sixteen", func(t *testing.T) { sixteenPhotosInTenActions(t, chromium) })
	t.Run("ways", func(t *testing.T) { namesAndOrdersOfOnesOwn(t, chromium) })
	t.Run("keyboard", func(t *testing.T) { keyboardAlone(t, chromium) })
	t.Run("outlines of several valves", func(t *testing.T) { outlinesOfSeveralValves(t, chromium) })
	t.Run("outline", func(t *testing.T) { outlinesAreDragged(t, chromium) })
	t.Run("hand", func(t *testing.T) { outlinesAreSoonPutRight(t, chromium) })
	t.Run("fingers", func(t *testing.T) { fingersZoomAndMove(t, chromium) })
	t.Run("pasted", func(t *testing.T) { pastedAndTaken(t, chromium) })
	t.Run("paint", func(t *testing.T) { classesArePainted(t, chromium) })
	t.Run("decisions", func(t *testing.T) { decisionsAndReport(t, chromium) })
	t.Run("typed", func(t *testing.T) { whatIsTypedStands(t, chromium) })
	t.Run("code", func(t *testing.T) { theCodeIsTyped(t, chromium) })
	t.Run("full", func(t *testing.T) { theDiskIsFull(t, chromium) })
	t.Run("phone", func(t *testing.T) { aPhoneIsEnough(t, chromium) })
	t.Run("weak", func(t *testing.T) { aWeakNetworkIsBorne(t, chromium) })
	t.Run("restart", func(t *testing.T) { aRestartLosesNothing(t, chromium) })
	t.Run("languages", func(t *testing.T) { everyLanguageIsSpoken(t, chromium) })
	t.Run("open", func(t *testing.T) { anEmptyInspectionSaysWhatItLacks(t, chromium) })
	t.Run("gone", func(t *testing.T) { anOldAddressLeadsBack(t, chromium) })
	t.Run("compared", func(t *testing.T) { theEngineIsCompared(t, chromium) })
	t.Run("earlier", func(t *testing.T) { theEarlierOneIsProposed(t, chromium) })
	t.Run("meanwhile", func(t *testing.T) { whatWasKeptMeanwhileIsKnown(t, chromium) })
	t.Run("tiles", func(t *testing.T) { tilesAreTold(t, chromium) })
	t.Run("cautions", func(t *testing.T) { theResultTellsCautions(t, chromium) })
	t.Run("stray", func(t *testing.T) { aStrayPhotoTellsNoDate(t, chromium) })
	t.Run("archive", func(t *testing.T) { theArchiveIsSearched(t, chromium) })
	t.Run("views", func(t *testing.T) { everyViewKeepsTheRules(t, chromium) })
}

// quiet: no complaint of the browser, no request to anybody else.
func (b *tab) quiet(t *testing.T) {
	t.Helper()
	problems, outside := b.heard()
	assert.Empty(t, problems)
	assert.Empty(t, outside)
}

// A photo written into the folder, and one that is dropped, stand on the page with what to do next.
func photosArrive(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	_, server := start(t, dir, Options{})
	b := visit(t, chromium, server.URL, 1200, 900, "light")
	b.until(t, "document.querySelector('.empty')")
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl2-valve1-before.jpg"})
	b.until(t, "document.querySelector('.verdict.good')")
	said := eval[string](t, b, "document.querySelector('.verdict').innerText")
	assert.Regexp(t, `grade [0-4] [a-z]+`, said)
	assert.Regexp(t, `(?s)Dark deposit \d+[\s\x{a0}]%.*Deposit index \d+`, said, "dark deposit comes first")
	assert.Regexp(t, `Cleaning is due: \d\d[\s\x{a0}]% likely|Whether cleaning is due`, said)
	assert.Regexp(t, "Build-up: (thick|thin)", said)
	assert.Equal(t, 5, eval[int](t, b, "document.querySelectorAll('.verdict .steps rect').length"))

	data, err := os.ReadFile("../../testdata/ordinary/brick.jpg")
	require.NoError(t, err)
	eval[any](t, b, fmt.Sprintf(`void (() => {
		const bytes = Uint8Array.from(atob(%q), (c) => c.charCodeAt(0));
		const data = new DataTransfer();
		data.items.add(new File([bytes], 'wall.jpg', { type: 'image/jpeg' }));
		document.body.dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
	})()`, encoded(data)))
	b.until(t, "document.querySelector('.verdict.refused')")
	said = eval[string](t, b, "document.querySelector('.verdict').innerText")
	assert.Contains(t, said, "Take it again: no valve found")
	assert.Contains(t, said, "Aim the lens")
	assert.Equal(t, 2, eval[int](t, b, "document.querySelectorAll('.tile').length"))

	eval[any](t, b, "void (location.hash = '#/')")
	b.until(t, "document.querySelector('main.list')")
	stays := eval[bool](t, b, `(() => {
		const data = new DataTransfer();
		data.items.add(new File([new Uint8Array(9)], 'late.jpg', { type: 'image/jpeg' }));
		const about = { dataTransfer: data, bubbles: true, cancelable: true };
		document.body.dispatchEvent(new DragEvent('dragover', about));
		return !('drop' in document.body.dataset) && !document.body.dispatchEvent(new DragEvent('drop', about));
	})()`)
	assert.True(t, stays, "the browser does not leave the page for a photo that is dropped beside an inspection")
	eval[any](t, b, "void (location.hash = '#/here/photos')")
	b.until(t, "document.querySelector('.tile')")
	assert.Equal(t, 2, eval[int](t, b, "document.querySelectorAll('.tile, .bringing li').length"), "nor does the last one get it")
	b.quiet(t)
}

// Whoever looks at the contact sheet while photos arrive looks at the same photos in the same places.
func theSheetStandsWhilePhotosArrive(t *testing.T, chromium context.Context) {
	for _, width := range []int64{360, 1200} {
		dir := t.TempDir()
		photo, err := os.ReadFile(filepath.Join(demoFolder, "cyl2-valve1-before.jpg"))
		require.NoError(t, err)
		write := func(n int) {
			name := filepath.Join(dir, fmt.Sprintf("IMG_%d.JPG", n))
			require.NoError(t, os.WriteFile(name, append(photo, fmt.Sprint(n)...), 0o644))
		}
		for n := range 12 {
			write(n)
		}
		bayed, server := start(t, dir, Options{})
		ready(t, bayed, 12)
		b := visit(t, chromium, server.URL, width, 700, "light")
		b.until(t, "document.querySelectorAll('.tile.good').length === 12")
		eval[any](t, b, `void (() => {
			const tile = document.querySelectorAll('.tile')[8];
			scrollTo(0, scrollY + tile.getBoundingClientRect().top - 200);
			const files = () => [...document.querySelectorAll('.tile')].map((t) => t.dataset.file).slice(0, 12).join();
			const top = tile.getBoundingClientRect().top, first = files();
			window.jumps = [];
			const look = () => {
				const by = tile.getBoundingClientRect().top - top;
				if (Math.abs(by) > 2 || files() !== first) window.jumps.push(by + ' ' + files());
				requestAnimationFrame(look);
			};
			requestAnimationFrame(look);
		})()`)
		for n := 12; n < 15; n++ {
			write(n)
			b.until(t, fmt.Sprintf("document.querySelectorAll('.tile.good').length === %d", n+1))
		}
		assert.Empty(t, eval[[]string](t, b, "window.jumps"), "at %d pixels", width)
		b.quiet(t)
	}
}

// Sixteen photos are given to their valves in ten actions or fewer, whichever way they tell where they belong.
func sixteenPhotosInTenActions(t *testing.T, chromium context.Context) {
	inOrder := func(b *tab, act func(func())) {
		act(func() { b.button(t, "Set") }) // four cylinders with two valves are what stands there
		b.until(t, "document.querySelectorAll('.disc').length === 8")
		act(func() {
			eval[any](t, b, "void (s => { s.value = '2'; s.dispatchEvent(new Event('change', {bubbles: true})) })(document.querySelector('.order select'))")
		})
		act(func() { b.button(t, "Assign 16") })
	}
	byNames := func(b *tab, act func(func())) { act(func() { b.button(t, "By their names") }) }
	for way, told := range map[string]struct {
		name    func(n, cylinder, valve int) string
		assign  func(b *tab, act func(func()))
		actions int
	}{
		"order of shooting":       {func(n, _, _ int) string { return fmt.Sprintf("IMG_%04d.JPG", n) }, inOrder, 3},
		"folder of each cylinder": {func(n, c, _ int) string { return fmt.Sprintf("cyl%d/IMG_%04d.JPG", c, n) }, inOrder, 3},
		"names":                   {func(n, c, v int) string { return fmt.Sprintf("c%dv%d-%d.jpg", c, v, n) }, byNames, 1},
		"folder of each valve":    {func(n, c, v int) string { return fmt.Sprintf("c%dv%d/IMG_%04d.JPG", c, v, n) }, byNames, 1},
	} {
		t.Run(way, func(t *testing.T) {
			dir := t.TempDir()
			names := map[string]string{}
			var files []string
			for cylinder := 1; cylinder <= 4; cylinder++ {
				for valve := 1; valve <= 2; valve++ {
					for range 2 {
						file := told.name(len(files)+1, cylinder, valve)
						names[file] = fmt.Sprintf("cyl%d-valve%d-before.jpg", cylinder, valve)
						files = append(files, file)
						require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(dir, file)), 0o755))
					}
				}
			}
			copyDemo(t, dir, names)
			for k, file := range files { // as a camera writes them
				at := time.Now().Add(time.Duration(k-len(files)-60) * time.Second)
				require.NoError(t, os.Chtimes(filepath.Join(dir, file), at, at))
			}
			bayed, server := start(t, dir, Options{})
			j := ready(t, bayed, 16)
			b := visit(t, chromium, server.URL, 360, 740, "dark")
			b.until(t, "document.querySelectorAll('.tile.good').length === 16")
			actions := 0
			told.assign(b, func(do func()) { actions++; do() })
			require.Eventually(t, func() bool { return j.Sheet().Next == "" && j.Sheet().Facts.Cylinders == 4 }, time.Minute, 20*time.Millisecond)
			for file, photo := range names {
				shot := find(j, file)
				assert.Equal(t, photo[:len("cyl1-valve1")], fmt.Sprintf("cyl%d-valve%d", shot.Cylinder, shot.Valves[0]), file)
			}
			assert.Equal(t, told.actions, actions)
			b.quiet(t)
		})
	}
}

// Names of one's own, and an order that begins elsewhere; both are taken back by one press.
func namesAndOrdersOfOnesOwn(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"zyl1_1.jpg": "cyl1-valve1-before.jpg", "zyl2_1.jpg": "cyl2-valve1-before.jpg"})
	bayed, server := start(t, dir, Options{})
	j := ready(t, bayed, 2)
	b := visit(t, chromium, server.URL, 360, 740, "light")
	b.button(t, "Another order, or names of your own")
	pattern := func(text string) {
		b.until(t, "document.querySelector('[name=pattern]')")
		eval[any](t, b, "void (i => { i.value = "+quote(text)+"; i.form.requestSubmit() })(document.querySelector('[name=pattern]'))")
	}
	pattern("port{valve}")
	b.until(t, "document.querySelector('.said').innerText.includes('does not say where the cylinder stands')")
	pattern("zyl{cylinder}_{valve}")
	require.Eventually(t, func() bool { return len(find(j, "zyl2_1.jpg").Valves) == 1 }, time.Minute, 20*time.Millisecond)
	assert.Equal(t, 2, find(j, "zyl2_1.jpg").Cylinder)
	b.button(t, "Undo: 2 photos by their names")
	require.Eventually(t, func() bool { return len(find(j, "zyl2_1.jpg").Valves) == 0 }, time.Minute, 20*time.Millisecond)

	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 2}, nil))
	b.until(t, "document.querySelector('.more input[placeholder^=\"1.1\"]')")
	eval[any](t, b, "void (i => { i.value = '4.2 3.1'; i.dispatchEvent(new Event('input', {bubbles: true})) })(document.querySelector('.more input'))")
	b.button(t, "Assign 2")
	require.Eventually(t, func() bool { return len(find(j, "zyl2_1.jpg").Valves) == 1 }, time.Minute, 20*time.Millisecond)
	for n, want := range []string{"4.2", "3.1"} {
		shot := j.Sheet().Shots[n]
		assert.Equal(t, want, inspection.ValveName(shot.Cylinder, shot.Valves[0]))
	}
	_, outside := b.heard() // the browser notes what was refused
	assert.Empty(t, outside)
}

func find(j *bay.Job, file string) bay.Shot {
	for _, shot := range j.Sheet().Shots {
		if shot.File == file {
			return shot
		}
	}
	return bay.Shot{}
}

func press(t testing.TB, b *tab, keys ...string) {
	t.Helper()
	for _, key := range keys {
		text := ""
		if len(key) == 1 {
			text = key
		}
		for _, kind := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeKeyDown, input.DispatchKeyEventTypeKeyUp} {
			call(
				t,
				b,
				input.DispatchKeyEvent,
				input.DispatchKeyEventParams{Type: kind, Key: key, Text: text, Code: code(key)},
			)
		}
	}
}

func code(key string) string {
	if key == " " {
		return "Space"
	}
	return key
}

// Without a mouse: tiles are reached, selected, given to a valve, taken back, opened.
func keyboardAlone(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	copyDemo(
		t,
		dir,
		map[string]string{
			"IMG_1.JPG": "cyl1-valve1-before.jpg",
			"IMG_2.JPG": "cyl1-valve2-before.jpg",
			"IMG_3.JPG": "cyl2-valve1-before.jpg",
		},
	)
	bayed, server := start(t, dir, Options{})
	j := ready(t, bayed, 3)
	require.NoError(t, j.SetEngine(inspection.Layout{Cylinders: 4, Valves: 2}, nil))
	b := visit(t, chromium, server.URL, 1200, 900, "light")
	b.until(t, "document.querySelectorAll('.tile').length === 3")
	for range 40 { // by Tab alone
		press(t, b, "Tab")
		eval[any](t, b, "void (document.activeElement.matches('.tile') || document.querySelector('.tile').focus())")
		if eval[bool](t, b, "document.activeElement.matches('.tile')") {
			break
		}
	}
	valves := func(file string) string {
		for _, shot := range j.Sheet().Shots {
			if shot.File == file && len(shot.Valves) > 0 {
				return inspection.ValveName(shot.Cylinder, shot.Valves[0])
			}
		}
		return ""
	}
	press(t, b, "2", "1")
	require.Eventually(t, func() bool { return valves("IMG_1.JPG") == "2.1" }, time.Minute, 20*time.Millisecond)
	press(t, b, "ArrowRight", " ", "ArrowRight", " ", "1", "2")
	require.Eventually(
		t,
		func() bool { return valves("IMG_2.JPG") == "1.2" && valves("IMG_3.JPG") == "1.2" },
		time.Minute,
		20*time.Millisecond,
	)
	b.until(t, "document.querySelector('.tools').innerText.includes('Undo')")
	press(t, b, "u")
	require.Eventually(t, func() bool { return valves("IMG_2.JPG") == "" }, time.Minute, 20*time.Millisecond)
	press(t, b, "Home", "0")
	require.Eventually(t, func() bool { return valves("IMG_1.JPG") == "" }, time.Minute, 20*time.Millisecond)
	press(t, b, "Enter")
	b.until(t, "location.hash.includes('/photo/IMG_1.JPG')")
	b.quiet(t)
}

// A grade is overruled with name and reason, facts are filled in, and the report shows both grades.
func decisionsAndReport(t *testing.T, chromium context.Context) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "first"), "before")
	whole(t, filepath.Join(dir, "then"), "after")
	bayed, server := start(t, dir, Options{})
	j, err := bayed.Job("then")
	require.NoError(t, err)
	b := visit(t, chromium, server.URL+"/#/then/result", 1200, 900, "light")
	b.button(t, "Overrule")
	b.until(t, "document.querySelector('form.sign')")
	eval[any](t, b, `void (() => {
		const form = document.querySelector('form.sign');
		form.querySelector('input[value="2"]').click();
		form.querySelector('[name=by]').value = 'Ann';
		form.querySelector('[name=reason]').value = 'crust behind the stem';
		form.requestSubmit();
	})()`)
	require.Eventually(
		t,
		func() bool { s := j.Sheet(); return len(s.Cylinders) > 0 && s.Cylinders[0].Valves[0].Overruled != nil },
		time.Minute,
		20*time.Millisecond,
	)
	b.until(t, "document.body.innerText.includes('Ann says grade 2 patchy: crust behind the stem')")
	b.until(t, "document.body.innerText.includes('measured: grade')")
	eval[any](t, b, `void (() => {
		const form = document.querySelector('.sheet-facts');
		form.querySelector('[name=odometer]').value = '85,000 mi';
		form.requestSubmit();
	})()`)
	require.Eventually(
		t,
		func() bool { return j.Sheet().Facts.Odometer == "85,000 mi" },
		time.Minute,
		20*time.Millisecond,
	)
	for odometer, again := range map[string]string{"85,000 mi": "15,000–20,000\u00a0mi", "136,000 km": "24,000–32,000\u00a0km"} {
		told := eval[string](t, b, `Promise.all([import('/page/figures.js'), import('/page/state.js'), import('/page/lit/lit-html.js')]).then(
			([{ advice }, { state }, { render }]) => {
				const shown = document.createElement('p'), odometer = state.sheet.facts.odometer;
				state.sheet.facts.odometer = `+quote(odometer)+`;
				render(advice({ decision: 'not-yet-due', certainty: 0.95, practice: 2 }), shown);
				state.sheet.facts.odometer = odometer;
				return shown.innerText;
			})`)
		assert.Contains(t, told, again)
		assert.NotContains(t, told, "(", "in the unit of the odometer alone")
	}

	eval[any](t, b, "void (location.hash = '#/then/photos')")
	b.until(t, "document.querySelector('.disc.given')")
	keepPicture(t, b, "overruled")
	measured := j.Sheet().Cylinders[0].Valves[0].Grade
	require.NotNil(t, measured)
	assert.Equal(t, fmt.Sprint("2", *measured), eval[string](t, b, "document.querySelector('.disc.given').textContent"),
		"the grade that was given, and the measured one on it")

	eval[any](t, b, "void (location.hash = '#/then/report')")
	b.until(t, "document.querySelector('.reporting form')")
	b.button(t, "Page")
	b.until(t, "document.querySelector('iframe')")
	path := eval[string](t, b, "document.querySelector('iframe').src")
	_, text := ask(t, "GET", path, "")
	assert.Contains(t, text, "By the eye of Ann: grade 2 patchy. Reason: crust behind the stem")

	eval[any](t, b, "void (location.hash = '#/then/compare')")
	b.until(t, "document.querySelector('.comparing form')")
	b.button(t, "Compare")
	eval[any](t, b, "void document.querySelector('.comparing form').requestSubmit()")
	b.until(
		t,
		"document.querySelectorAll('.changed').length === 2 && [...document.querySelectorAll('.swipe img')].every(i => i.complete && i.naturalWidth === 560)",
	)
	eval[any](
		t,
		b,
		"void (r => { r.value = 20; r.dispatchEvent(new Event('input', {bubbles: true})) })(document.querySelector('.swipe input'))",
	)
	assert.Equal(t, "20%", eval[string](t, b, "document.querySelector('.swipe').style.getPropertyValue('--at')"))
	assert.Empty(t, b.breaches(t))
	b.quiet(t)
}

func theCodeIsTyped(t *testing.T, chromium context.Context) {
	var last string
	bayed, err := bay.Open(t.TempDir(), bay.Options{Workers: 1})
	require.NoError(t, err)
	defer bayed.Close()
	s := New(bayed, Options{Sessions: NewSessions(nil, func(code string) { last = code })})
	server := httptest.NewServer(s) // browsers keep a cookie that is for TLS only on this machine's own name, too
	defer server.Close()
	address, err := url.Parse(server.URL)
	require.NoError(t, err)
	b := visit(t, chromium, "http://localhost:"+address.Port()+"/#/:statistics", 360, 740, "light")
	b.until(t, "document.querySelector('.enter form')")
	assert.Empty(t, b.breaches(t))
	assert.Empty(t, eval[string](t, b, "document.querySelector('#why').innerText"), "nobody typed a wrong code yet")
	eval[any](t, b, "void (window.followed = [], window.EventSource = class extends EventSource { constructor(url) { super(url); followed.push(url) } })")
	type form struct{ code, says string }
	for _, try := range []form{{"AAAA-AAAA", "not the code"}} {
		eval[any](
			t,
			b,
			"void (f => { f.code.value = "+quote(
				try.code,
			)+"; f.requestSubmit() })(document.querySelector('.enter form'))",
		)
		b.until(t, "document.querySelector('#why').innerText.includes("+quote(try.says)+")")
	}
	b.speak(t, "de")
	eval[any](t, b, "void (f => { f.code.value = 'AAAA-AAAA'; f.requestSubmit() })(document.querySelector('.enter form'))")
	b.until(t, "document.querySelector('#why').innerText.startsWith('Das ist nicht der Code')")
	b.speak(t, "en")
	eval[any](
		t,
		b,
		"void (f => { f.code.value = "+quote(last)+"; f.requestSubmit() })(document.querySelector('.enter form'))",
	)
	b.until(t, "!document.querySelector('.enter')")
	eval[any](t, b, "new Promise((later) => setTimeout(later, 50))")
	assert.Empty(t, eval[[]string](t, b, "followed"), "a view of the archive is no inspection")
	close(s.ended)
}

// The program ends and starts again on the same port: the page goes on by itself, still signed in, and what was decided
// stands.
func aRestartLosesNothing(t *testing.T, chromium context.Context) {
	dir, settings := t.TempDir(), t.TempDir()
	copyDemo(t, dir, map[string]string{"IMG_1.JPG": "cyl1-valve1-before.jpg"})
	first, err := bay.Open(dir, bay.Options{Workers: 1})
	require.NoError(t, err)
	ready(t, first, 1)
	code, codes := "", 0
	signedIn := func() *Sessions {
		kept, err := Keep(settings, dir)
		require.NoError(t, err)
		return NewSessions(kept, func(next string) { code, codes = next, codes+1 })
	}
	s := New(first, Options{Sessions: signedIn()})
	server := httptest.NewServer(s)
	address := server.Listener.Addr().String()
	_, port, err := net.SplitHostPort(address)
	require.NoError(t, err)
	b := visit(t, chromium, "http://localhost:"+port+"/#code="+code, 1200, 900, "light")
	b.until(t, "document.querySelectorAll('.tile').length === 1")
	b.button(t, "Set")
	b.until(t, "document.querySelector('.disc')")
	close(s.ended)
	server.CloseClientConnections()
	server.Close()
	require.NoError(t, first.Close())
	b.until(t, "!document.querySelector('.lost').hidden")

	second, err := bay.Open(dir, bay.Options{Workers: 1})
	require.NoError(t, err)
	defer second.Close()
	again := New(second, Options{Sessions: signedIn()})
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- again.Serve(ctx, listen(t, address)) }()
	b.until(t, "document.querySelector('.lost').hidden && document.querySelectorAll('.disc').length === 8")
	assert.Equal(t, 3, codes, "no other code was asked for")
	stop()
	require.NoError(t, <-ended)
}
