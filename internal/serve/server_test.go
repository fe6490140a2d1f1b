package serve

import (
	"bufio"
	"bytes"
	"context"
	"crypto/tls"
	"encoding/json"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/pkg/bay"
	"valvegrade/pkg/inspection"
)

func ask(t testing.TB, method, address, body string, headers ...string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequest(method, address, strings.NewReader(body))
	require.NoError(t, err)
	for n := 0; n < len(headers); n += 2 {
		if headers[n] == "Host" {
			r.Host = headers[n+1]
		} else {
			r.Header.Set(headers[n], headers[n+1])
		}
	}
	answer, err := http.DefaultTransport.RoundTrip(r)
	require.NoError(t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	return answer, string(text)
}

func TestNoOtherSiteIsLetIn(t *testing.T) {
	_, server := start(t, t.TempDir(), Options{})
	engine := server.URL + "/api/inspections/here/engine"
	four := `{"cylinders":4,"valves":2,"rows":[]}`
	for name, headers := range map[string][]string{
		"origin":        {"Origin", "https://evil.example"},
		"site":          {"Sec-Fetch-Site", "cross-site"},
		"same site":     {"Sec-Fetch-Site", "same-site"},
		"other port":    {"Origin", "http://127.0.0.1:1"},
		"null":          {"Origin", "null"},
		"look only":     {"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors"},
		"frame of ours": {"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate"},
	} {
		answer, _ := ask(t, "POST", engine, four, headers...)
		assert.Equal(t, http.StatusForbidden, answer.StatusCode, name)
	}
	answer, _ := ask(t, "GET", server.URL+"/api/bay", "", "Sec-Fetch-Site", "cross-site")
	assert.Equal(t, http.StatusForbidden, answer.StatusCode)
	answer, _ = ask(t, "GET", server.URL+"/", "", "Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate")
	assert.Equal(t, http.StatusOK, answer.StatusCode, "a link that leads to the page")
	answer, text := ask(t, "GET", server.URL+"/api/bay", "", "Host", "evil.example:80")
	assert.Equal(t, http.StatusMisdirectedRequest, answer.StatusCode, text)
	answer, _ = ask(t, "GET", server.URL+"/api/bay", "", "Host", "192.168.1.5")
	assert.Equal(t, http.StatusMisdirectedRequest, answer.StatusCode, "served to this machine only")
	answer, _ = ask(t, "POST", engine, four, "Origin", server.URL, "Sec-Fetch-Site", "same-origin")
	assert.Equal(t, http.StatusOK, answer.StatusCode)
	for _, header := range []string{"Content-Security-Policy", "X-Content-Type-Options", "Cross-Origin-Resource-Policy"} {
		assert.NotEmpty(t, answer.Header.Get(header))
	}
}

// A mistake in one answer is told, and the next request is answered.
func TestAFailureOfTheProgramIsTold(t *testing.T) {
	s := New(nil, Options{}) // whatever asks the bay fails
	for range 2 {
		answer := httptest.NewRecorder()
		s.ServeHTTP(answer, httptest.NewRequest("GET", "http://127.0.0.1/api/bay", nil))
		assert.Equal(t, http.StatusInternalServerError, answer.Code)
		assert.Contains(t, answer.Body.String(), "the program failed: ")
	}
}

func TestNamesAreNoPaths(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shop")
	copyDemo(t, dir, map[string]string{"a.jpg": "cyl1-valve1-before.jpg"})
	secret := filepath.Join(filepath.Dir(dir), "secret.jpg")
	copyDemo(t, filepath.Dir(dir), map[string]string{"secret.jpg": "cyl1-valve2-before.jpg"})
	require.NoError(t, os.Symlink(secret, filepath.Join(dir, "link.jpg")))
	b, server := start(t, dir, Options{})
	ready(t, b, 1) // the link leads out of the folder and is none
	for _, path := range []string{
		"/api/inspections/..%2f/sheet", "/api/inspections/%2e%2e/sheet", "/api/inspections/shop/sheet", "/api/inspections/%00/sheet",
		"/api/inspections/here/picture/plain?photo=../secret.jpg", "/api/inspections/here/picture/plain?photo=link.jpg",
		"/api/inspections/here/picture/plain?photo=inspection.yaml", "/api/inspections/here/picture/raw?photo=a.jpg",
		"/api/inspections/here/marks?photo=../secret.jpg", "/page/..%2fserver.go", "/page/%2e%2e%2fserver.go", "/server.go", "/etc/passwd",
		"/api/papers/x/y",
	} {
		answer, text := ask(t, "GET", server.URL+path, "")
		assert.Equal(t, http.StatusNotFound, answer.StatusCode, "%s %s", path, text)
	}
	for action, body := range map[string]string{
		"assign": `{"files":["../secret.jpg"],"cylinder":1,"valves":[1]}`, "marks": `{"file":"../secret.jpg","marks":{"by":"","head":{"x":1,"y":1,"a":9,"b":9,"angle":0},"stem":null,"painted":[]}}`,
	} {
		answer, _ := ask(t, "POST", server.URL+"/api/inspections/here/"+action, body)
		assert.Equal(t, http.StatusNotFound, answer.StatusCode, action)
	}
	_, err := os.Stat(secret + ".marks.yaml")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// Where two inspections are asked for, a fault of a form says whose it is, and where the folders lie is told of neither.
func TestAFaultOfOneOfTwoInspectionsNamesIt(t *testing.T) {
	dir := t.TempDir()
	whole(t, filepath.Join(dir, "june"), "before")
	whole(t, filepath.Join(dir, "july"), "after")
	_, server := start(t, dir, Options{})
	for _, wrong := range []string{"june", "july"} {
		form := filepath.Join(dir, wrong, inspection.File)
		text, err := os.ReadFile(form)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(form, bytes.Replace(text, []byte("84200 mi"), []byte("84,2 mi"), 1), 0o644))
		for action, body := range map[string]string{
			"compare": `{"earlier":"june"}`, "report": `{"format":"txt","before":"june"}`,
		} {
			answer, told := ask(t, "POST", server.URL+"/api/inspections/july/"+action, body)
			assert.Equal(t, http.StatusConflict, answer.StatusCode, told)
			assert.Contains(t, told, `inspection \"`+wrong+`\": inspection.yaml: odometer`, action)
			assert.NotContains(t, told, dir)
		}
		require.NoError(t, os.WriteFile(form, text, 0o644))
	}
}

func TestHostileUploads(t *testing.T) {
	dir := t.TempDir()
	_, server := start(t, dir, Options{})
	photos := server.URL + "/api/inspections/here/photos"
	names, err := filepath.Glob("../../pkg/photo/testdata/*")
	require.NoError(t, err)
	names = append(names, "../heic/testdata/lying.heic")
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		for cut := range 3 {
			answer, text := ask(t, "POST", photos+"?name=../../x.jpg", string(data[:len(data)*(3-cut)/3]))
			assert.Contains(t, []int{200, 422}, answer.StatusCode, "%s %s", name, text)
			if answer.StatusCode == 422 {
				assert.Contains(t, text, `"advice"`)
			}
		}
	}
	for _, body := range []string{"", "<script>alert(1)</script>", strings.Repeat("GIF89a", 1000), "\xff\xd8\xff\xe0\x00\x10JFIF"} {
		answer, _ := ask(t, "POST", photos+"?name=%00%2f%2e%2e&taken=-1", body)
		assert.Equal(t, 422, answer.StatusCode)
	}
	for _, body := range []string{"", "{", "[]", `{"file":1}`, `{"unknown":true}`, strings.Repeat("[", 100000), strings.Repeat(" ", jsonBytes+1)} {
		for _, action := range []string{"assign", "order", "names", "follow", "engine", "facts", "overrule", "leave-out", "marks", "report", "compare"} {
			answer, _ := ask(t, "POST", server.URL+"/api/inspections/here/"+action, body)
			assert.GreaterOrEqual(t, answer.StatusCode, 400, action)
			assert.Less(t, answer.StatusCode, 500, action)
		}
	}
	entries, err := filepath.Glob(filepath.Join(dir, ".valvegrade*"))
	require.NoError(t, err)
	assert.Empty(t, entries, "nothing half is left")
	_, err = os.Stat(filepath.Join(filepath.Dir(dir), "x.jpg"))
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// A client that goes away in the middle of a photo leaves nothing.
func TestAClientThatGoesAway(t *testing.T) {
	dir := t.TempDir()
	_, server := start(t, dir, Options{})
	connection, err := net.Dial("tcp", strings.TrimPrefix(server.URL, "http://"))
	require.NoError(t, err)
	data, err := os.ReadFile(filepath.Join(demoFolder, "cyl1-valve1-before.jpg"))
	require.NoError(t, err)
	_, err = io.WriteString(
		connection,
		"POST /api/inspections/here/photos?name=a.jpg HTTP/1.1\r\nHost: localhost\r\nContent-Length: 58119\r\n\r\n"+string(
			data[:20000],
		),
	)
	require.NoError(t, err)
	require.Eventually(t, func() bool {
		found, _ := filepath.Glob(filepath.Join(dir, ".valvegrade*"))
		return len(found) == 1
	}, 20*time.Second, 5*time.Millisecond, "it comes")
	require.NoError(t, connection.Close())
	require.Eventually(t, func() bool {
		entries, err := os.ReadDir(dir)
		return err == nil && len(entries) == 0
	}, 20*time.Second, 5*time.Millisecond, "and is gone")
}

func TestTenThousandRequests(t *testing.T) {
	b, err := bay.Open(t.TempDir(), bay.Options{Workers: 1})
	require.NoError(t, err)
	defer b.Close()
	s := New(b, Options{})
	statuses := map[int]int{}
	for range 10_000 {
		r := httptest.NewRequest("GET", "http://localhost/api/bay", nil)
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		statuses[w.Code]++
	}
	assert.GreaterOrEqual(t, statuses[200], callsAtOnce)
	assert.Equal(t, 10_000, statuses[200]+statuses[429], "%v", statuses)
	time.Sleep(50 * time.Millisecond)
	w := httptest.NewRecorder()
	s.ServeHTTP(w, httptest.NewRequest("GET", "http://localhost/api/bay", nil))
	assert.Equal(t, 200, w.Code, "and goes on")
}

func TestTheCodeLetsOneDeviceIn(t *testing.T) {
	var codes []string
	sessions := NewSessions(nil, func(code string) { codes = append(codes, code) })
	b, err := bay.Open(t.TempDir(), bay.Options{Workers: 1})
	require.NoError(t, err)
	defer b.Close()
	server := httptest.NewTLSServer(New(b, Options{Sessions: sessions}))
	defer server.Close()
	client := server.Client()
	post := func(code string) *http.Response {
		body, err := json.Marshal(map[string]string{"code": code})
		require.NoError(t, err)
		answer, err := client.Post(server.URL+"/api/enter", "application/json", bytes.NewReader(body))
		require.NoError(t, err)
		defer answer.Body.Close()
		return answer
	}
	get := func(path string, cookies ...*http.Cookie) int {
		r, err := http.NewRequest("GET", server.URL+path, nil)
		require.NoError(t, err)
		for _, c := range cookies {
			r.AddCookie(c)
		}
		answer, err := client.Do(r)
		require.NoError(t, err)
		defer answer.Body.Close()
		return answer.StatusCode
	}
	assert.Equal(t, 200, get("/"), "the page that asks for the code")
	assert.Equal(t, 401, get("/api/bay"))
	assert.Equal(t, 401, get("/api/inspections/here/sheet"))
	assert.Equal(t, 401, get("/api/bay", &http.Cookie{Name: cookieName, Value: "guess"}))
	assert.Equal(t, 403, post("AAAA-AAAA").StatusCode)
	answer := post(strings.ToLower(codes[0]))
	require.Equal(t, 200, answer.StatusCode)
	cookie := answer.Cookies()[0]
	assert.True(
		t,
		cookie.Secure && cookie.HttpOnly && cookie.SameSite == http.SameSiteStrictMode &&
			strings.HasPrefix(cookie.Name, "__Host-"),
	)
	assert.Equal(t, 200, get("/api/bay", cookie))
	require.Len(t, codes, 2)
	assert.NotEqual(t, codes[0], codes[1])
	assert.Equal(t, 403, post(codes[0]).StatusCode, "each code lets one device in")
	for range 5 {
		answer = post("ZZZZ-ZZZZ")
	}
	assert.Equal(t, 429, answer.StatusCode, "nobody tries them all")
	assert.Equal(t, 429, post(codes[1]).StatusCode)
}

// Devices outlive the program; their cookies do not stand in the file, which nobody else reads.
func TestDevicesAreKnownOverARestart(t *testing.T) {
	dir, served := filepath.Join(t.TempDir(), "settings"), t.TempDir()
	kept, err := Keep(dir, served)
	require.NoError(t, err)
	require.NoError(t, kept.SetPort(4711))
	var code string
	s := NewSessions(kept, func(next string) { code = next })
	cookie, ok, _ := s.enter(code)
	require.True(t, ok)
	request := func() *http.Request {
		r := httptest.NewRequest("GET", "/api/bay", nil)
		r.AddCookie(cookie)
		return r
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	require.Len(t, files, 1)
	info, err := os.Stat(files[0])
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o600), info.Mode().Perm())
	text, err := os.ReadFile(files[0])
	require.NoError(t, err)
	assert.NotContains(t, string(text), cookie.Value)

	again, err := Keep(dir, served)
	require.NoError(t, err)
	assert.Equal(t, 4711, again.Port())
	assert.True(t, NewSessions(again, func(string) {}).known(request()))
	other, err := Keep(dir, t.TempDir())
	require.NoError(t, err)
	assert.False(t, NewSessions(other, func(string) {}).known(request()), "another folder is another page")
	forged := strings.Replace(string(text), `"devices":{`, `"devices":{"`+strings.Repeat("0", 64)+`":"2999-01-01T00:00:00Z",`, 1)
	require.NoError(t, os.WriteFile(files[0], []byte(forged), 0o600))
	again, err = Keep(dir, served)
	require.NoError(t, err)
	assert.Len(t, again.devices, 1, "nobody is known for longer than a working day")
	require.NoError(t, again.Forget())
	again, err = Keep(dir, served)
	require.NoError(t, err)
	assert.False(t, NewSessions(again, func(string) {}).known(request()))
	for _, spoilt := range []string{"{", `{"devices": {"` + strings.Repeat("0", 66) + `": "2026-01-01T00:00:00Z"}}`} {
		require.NoError(t, os.WriteFile(files[0], []byte(spoilt), 0o600))
		again, err = Keep(dir, served)
		require.NoError(t, err)
		assert.Empty(t, again.devices)
	}
}

func TestTheOwnCertificate(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "valvegrade")
	first, err := OwnCertificate(dir, []net.IP{net.IPv4(192, 168, 7, 5)})
	require.NoError(t, err)
	info, err := os.Stat(filepath.Join(dir, "page.pem"))
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	again, err := OwnCertificate(dir, []net.IP{net.IPv4(192, 168, 7, 5)})
	require.NoError(t, err)
	assert.Equal(t, Fingerprint(first), Fingerprint(again), "made once")
	other, err := OwnCertificate(dir, []net.IP{net.IPv4(10, 0, 0, 9)})
	require.NoError(t, err)
	assert.NotEqual(t, Fingerprint(first), Fingerprint(other), "another address wants another")
	assert.Len(t, Fingerprint(first), 95)
}

func TestServingWithACertificate(t *testing.T) {
	certificate, err := OwnCertificate(t.TempDir(), nil)
	require.NoError(t, err)
	address, stop, ended := serving(t, t.TempDir(), Options{Certificate: certificate, Sessions: NewSessions(nil, func(string) {})})
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{InsecureSkipVerify: true}}}
	answer, err := client.Get("https://" + address + "/api/bay")
	require.NoError(t, err)
	answer.Body.Close()
	assert.Equal(t, 401, answer.StatusCode)
	stop()
	assert.NoError(t, <-ended)
}

// serving serves the bay of a folder at an address until stopped; ended gets what Serve returns.
func serving(t *testing.T, dir string, o Options) (address string, stop func(), ended <-chan error) {
	b, err := bay.Open(dir, bay.Options{Workers: 1})
	require.NoError(t, err)
	t.Cleanup(func() { b.Close() })
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	t.Cleanup(stop)
	end := make(chan error, 1)
	go func() { end <- New(b, o).Serve(ctx, listener) }()
	return listener.Addr().String(), stop, end
}

// A photo on its way when the program is ended arrives whole, and Serve waits for it.
func TestTheLastRequestComesToItsEnd(t *testing.T) {
	dir := t.TempDir()
	address, stop, ended := serving(t, dir, Options{})
	photo, err := os.ReadFile(filepath.Join(demoFolder, "cyl1-valve1-before.jpg"))
	require.NoError(t, err)
	body, rest := io.Pipe()
	defer rest.Close()
	arrived := make(chan int, 1)
	go func() {
		answer, err := http.Post("http://"+address+"/api/inspections/here/photos?name=a.jpg", "image/jpeg", body)
		if err != nil {
			arrived <- 0
			return
		}
		answer.Body.Close()
		arrived <- answer.StatusCode
	}()
	_, err = rest.Write(photo[:len(photo)/2])
	require.NoError(t, err)
	require.Eventually(t, func() bool {
		coming, _ := filepath.Glob(filepath.Join(dir, ".valvegrade-*"))
		return len(coming) == 1
	}, 30*time.Second, 5*time.Millisecond)
	stop()
	select {
	case <-ended:
		require.Fail(t, "half a photo was left behind")
	case <-time.After(100 * time.Millisecond):
	}
	_, err = rest.Write(photo[len(photo)/2:])
	require.NoError(t, err)
	require.NoError(t, rest.Close())
	assert.Equal(t, http.StatusOK, <-arrived)
	assert.NoError(t, <-ended)
}

// Two who look at one inspection see each other's changes.
func TestTwoClients(t *testing.T) {
	dir := t.TempDir()
	copyDemo(t, dir, map[string]string{"a.jpg": "cyl1-valve1-before.jpg"})
	b, server := start(t, dir, Options{})
	ready(t, b, 1)
	follow := func() *bufio.Scanner {
		answer, err := http.Get(server.URL + "/api/inspections/here/events")
		require.NoError(t, err)
		t.Cleanup(func() { answer.Body.Close() })
		lines := bufio.NewScanner(answer.Body)
		lines.Buffer(nil, 1<<20)
		return lines
	}
	next := func(lines *bufio.Scanner) *bay.Sheet {
		for lines.Scan() {
			if text, found := strings.CutPrefix(lines.Text(), "data: "); found {
				var s bay.Sheet
				require.NoError(t, json.Unmarshal([]byte(text), &s))
				return &s
			}
		}
		require.NoError(t, lines.Err())
		return nil
	}
	one, two := follow(), follow()
	assert.Zero(t, next(one).Facts.Cylinders)
	assert.Zero(t, next(two).Facts.Cylinders)
	answer, text := ask(
		t,
		"POST",
		server.URL+"/api/inspections/here/engine",
		`{"cylinders":6,"valves":2,"rows":[[1,2,3],[4,5,6]]}`,
	)
	require.Equal(t, 200, answer.StatusCode, text)
	for _, lines := range []*bufio.Scanner{one, two} {
		for s := next(lines); ; s = next(lines) {
			if s.Facts.Cylinders == 6 {
				assert.Equal(t, [][]int{{1, 2, 3}, {4, 5, 6}}, s.Facts.Rows)
				break
			}
		}
	}
}

// The browser asks for all modules at once, not for one after the other as it comes upon them.
func TestAllModulesAreAskedForAtOnce(t *testing.T) {
	page, err := embedded.ReadFile("page/page.html")
	require.NoError(t, err)
	for _, pattern := range []string{"page/*.js", "page/lit/*.js", "page/lit/directives/*.js"} {
		modules, err := fs.Glob(embedded, pattern)
		require.NoError(t, err)
		for _, module := range modules {
			assert.Contains(t, string(page), `"/`+module+`"`)
		}
	}
}

func TestQRCodesHaveAQuietZone(t *testing.T) {
	drawn, err := QR("https://192.168.7.5:8443/#code=ABCD-EFGH")
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSuffix(drawn, "\n"), "\n")
	plain := func(line string) []rune {
		return []rune(strings.TrimSuffix(strings.TrimPrefix(line, "\x1b[30;107m"), "\x1b[0m"))
	}
	assert.Empty(t, strings.TrimSpace(string(plain(lines[0]))), "four modules of margin are two lines")
	assert.Empty(t, strings.TrimSpace(string(plain(lines[1]))))
	assert.Len(t, plain(lines[0]), len(plain(lines[5])))
	assert.InDelta(t, 2*len(lines), len(plain(lines[0])), 1, "a square")
	assert.Equal(
		t,
		"▀▀▀▀▀▀▀",
		strings.ReplaceAll(string(plain(lines[2])[4:11]), "█", "▀"),
		"a finder pattern begins in the corner",
	)
}
