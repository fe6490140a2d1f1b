package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/color/palette"
	"image/gif"
	"image/jpeg"
	"image/png"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// fixtures are the script commands that make files: FIXTURE NAME... makes each of the names.
var fixtures = map[string]func(ts *testscript.TestScript, neg bool, args []string){
	"grey":      making(grey),
	"one-pixel": making(func(w io.Writer) error { return png.Encode(w, plain(1, 1)) }),
	"half-jpeg": making(halfJPEG),
	"bomb":      making(bomb),
	"animation": making(animation),
	"many":      many,
	"port":      port,
	"wait-for":  waitFor,
	"same":      same,
	"forge":     forge,
	"control":   control,
	"dangling":  making(dangling),
	"pipe":      pipe,
	"spoil":     spoil,
}

func making(write func(io.Writer) error) func(*testscript.TestScript, bool, []string) {
	return func(ts *testscript.TestScript, _ bool, names []string) {
		for _, name := range names {
			var content bytes.Buffer
			ts.Check(write(&content))
			ts.Check(os.WriteFile(ts.MkAbs(name), content.Bytes(), 0o600))
		}
	}
}

// grey writes a photo without a valve.
func grey(w io.Writer) error { return png.Encode(w, plain(200, 170)) }

// many makes photos without a valve, 000.png and so on: many FOLDER COUNT.
func many(ts *testscript.TestScript, _ bool, args []string) {
	count, err := strconv.Atoi(args[1])
	ts.Check(err)
	for i := range count {
		making(grey)(ts, false, []string{filepath.Join(args[0], fmt.Sprintf("%03d.png", i))})
	}
}

// port paints two valves side by side for the test nets (internal/net/testdata/painted.py), heads in red and stems in
// green of a brightness from 0 to 255, the left one dimmer than the right: port BRIGHTNESS NAME.
func port(ts *testscript.TestScript, _ bool, args []string) {
	brightness, err := strconv.Atoi(args[0])
	ts.Check(err)
	picture := image.NewNRGBA(image.Rect(0, 0, 640, 512))
	for i := range picture.Rect.Dx() * picture.Rect.Dy() {
		x, y := i%640, i/640
		grain := uint8(brightness - (x*7+y*13)%16 - 20*(1-x/320)) // a texture, so that it counts as sharp
		c := color.NRGBA{B: 255, A: 255}
		switch across := float64(x%320 - 160); {
		case math.Abs(across) < 24 && y < 256:
			c = color.NRGBA{G: grain, A: 255}
		case math.Hypot(across, float64(y-290)) < 110:
			c = color.NRGBA{R: grain, A: 255}
		}
		picture.SetNRGBA(x, y, c)
	}
	making(func(w io.Writer) error { return png.Encode(w, picture) })(ts, false, args[1:])
}

func plain(width, height int) image.Image {
	picture := image.NewGray(image.Rect(0, 0, width, height))
	for i := range picture.Pix {
		picture.Pix[i] = 90
	}
	return picture
}

func halfJPEG(w io.Writer) error {
	var whole bytes.Buffer
	if err := jpeg.Encode(&whole, plain(640, 480), nil); err != nil {
		return err
	}
	_, err := w.Write(whole.Bytes()[:whole.Len()/2])
	return err
}

// bomb writes a PNG of 33 bytes whose header claims 40 000 x 40 000 pixels.
func bomb(w io.Writer) error {
	header := []byte("IHDR\x00\x00\x9c\x40\x00\x00\x9c\x40\x08\x02\x00\x00\x00")
	content := append([]byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0d"), header...)
	_, err := w.Write(binary.BigEndian.AppendUint32(content, crc32.ChecksumIEEE(header)))
	return err
}

func animation(w io.Writer) error {
	frame := image.NewPaletted(image.Rect(0, 0, 200, 170), palette.Plan9)
	return gif.EncodeAll(w, &gif.GIF{Image: []*image.Paletted{frame, frame}, Delay: []int{10, 10}})
}

// waitFor waits until a file exists: wait-for NAME.
func waitFor(ts *testscript.TestScript, _ bool, args []string) {
	for range 3000 {
		if _, err := os.Stat(ts.MkAbs(args[0])); err == nil {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	ts.Fatalf("%s did not come within 30 s", args[0])
}

// same fails unless two files have the same bytes: same A B. Unlike the built-in cmp it prints no binary differences.
func same(ts *testscript.TestScript, _ bool, args []string) {
	if ts.ReadFile(args[0]) != ts.ReadFile(args[1]) {
		ts.Fatalf("%s differ", fmt.Sprint(args))
	}
}

// forge copies a text with everything that matches a pattern replaced: forge FROM PATTERN REPLACEMENT TO.
func forge(ts *testscript.TestScript, _ bool, args []string) {
	forged := regexp.MustCompile(args[1]).ReplaceAllString(ts.ReadFile(args[0]), args[2])
	ts.Check(os.WriteFile(ts.MkAbs(args[3]), []byte(forged), 0o600))
}

// dangling writes a net (ONNX) of one convolution whose weights it does not hold: OpenCV follows a null pointer to
// them.
func dangling(w io.Writer) error {
	_, err := io.WriteString(
		w,
		"\x08\x07:Y\n\x19\n\x05input\n\x01w\n\x01b\x12\x04maps\"\x04Conv\x12\x01gZ!\n\x05input\x12\x18\n\x16\x08\x01"+
			"\x12\x12\n\x02\x08\x01\n\x02\x08\x03\n\x03\x08\x80\x02\n\x03\x08\xc0\x02b\x16\n\x04maps\x12\x0e\n\x0c\x08\x01\x12\x08\n\x02\x08\x01\n\x02\x08\x01B\x02\x10\r",
	)
	return err
}

// control puts a sequence that clears a terminal in place of every <clear> in files: control NAME...
func control(ts *testscript.TestScript, _ bool, names []string) {
	for _, name := range names {
		text := strings.ReplaceAll(ts.ReadFile(name), "<clear>", "\x1b[2J\u009b2J")
		ts.Check(os.WriteFile(ts.MkAbs(name), []byte(text), 0o600))
	}
}

// pipe makes pipes that nobody writes to: pipe NAME...
func pipe(ts *testscript.TestScript, _ bool, names []string) {
	for _, name := range names {
		ts.Check(syscall.Mkfifo(ts.MkAbs(name), 0o600))
	}
}

// spoil cuts every file below a folder in half: spoil FOLDER.
func spoil(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(filepath.WalkDir(ts.MkAbs(args[0]), func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		info, err := entry.Info()
		if err != nil {
			return err
		}
		return os.Truncate(path, info.Size()/2)
	}))
}
