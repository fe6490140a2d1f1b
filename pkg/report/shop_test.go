package report

import (
	"bytes"
	"image"
	"image/color"
	"image/gif"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"valvegrade/internal/limit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func save(t *testing.T, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, content, 0o600))
	return path
}

func pngOf(t *testing.T, picture image.Image) []byte {
	t.Helper()
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, picture))
	return data.Bytes()
}

func TestShopIsRead(t *testing.T) {
	dir := t.TempDir()
	require.NoError(
		t,
		os.WriteFile(filepath.Join(dir, "mark.png"), pngOf(t, image.NewNRGBA(image.Rect(0, 0, 1000, 100))), 0o600),
	)
	path := filepath.Join(dir, "shop.yaml")
	require.NoError(
		t,
		os.WriteFile(
			path,
			[]byte(
				"\uFEFFname: \"Garage: \\\"north\\\"\"\naddress: |\n  12 Example Road\n\n  Example Town  \nphone: 555 0100\nlogo: mark.png\n",
			),
			0o600,
		),
	)
	shop, err := ReadShop(path)
	require.NoError(t, err)
	assert.Equal(t, `Garage: "north"`, shop.Name)
	assert.Equal(t, []string{"12 Example Road", "Example Town"}, shop.Address)
	assert.Equal(t, "555 0100", shop.Phone)
	require.NotNil(t, shop.Logo)
	assert.Equal(t, [2]int{logoWidth, logoWidth / 10}, [2]int{shop.Logo.Width, shop.Logo.Height})
}

func TestAddressMayBeAList(t *testing.T) {
	shop, err := ReadShop(save(t, "shop.yaml", []byte("address: [12 Example Road, Example Town]\n")))
	require.NoError(t, err)
	assert.Equal(t, []string{"12 Example Road", "Example Town"}, shop.Address)
	shop, err = ReadShop(save(t, "shop.yaml", []byte("address: 12 Example Road\nphone: 555 0100\n")))
	require.NoError(t, err)
	assert.Equal(t, []string{"12 Example Road"}, shop.Address)
}

func TestShopFileFaultsAreSaid(t *testing.T) {
	for name, c := range map[string]struct{ text, says string }{
		"unknown entry": {"name: A\ncolour: red\n", "line 2: unknown field"},
		"a list":        {"- A\n", "line 1: entries such as"},
		"two names":     {"name: [A, B]\n", "line 1: a single value belongs here"},
		"no address":    {"name: A\naddress: {street: 12}\n", "line 2: a single value belongs here"},
		"nested lines":  {"name: A\naddress:\n  - [B]\n", "line 3: a single value belongs here"},
		"not UTF-8":     {"name: K\xe4fer\n", "save the file as UTF-8"},
		"a bare tag":    {"name: !!x\naddress: !\n", ""},
		"no YAML":       {"name: [", ""},
		"missing logo":  {"logo: none.png\n", "none.png"},
		"two documents": {"name: A\n---\nphone: 555 0100\n", "line 3: what stands from here on"},
		"far too long":  {"name: " + string(bytes.Repeat([]byte("x"), limit.ShopBytes)) + "\n", "64 KiB"},
	} {
		_, err := ReadShop(save(t, "shop.yaml", []byte(c.text)))
		assert.ErrorContains(t, err, c.says, name)
	}
	_, err := ReadShop(t.TempDir())
	assert.Error(t, err, "a folder")
	_, err = ReadShop("no-such.yaml")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestLogoIsDrawnAnewOnWhite(t *testing.T) {
	seeThrough := image.NewNRGBA(image.Rect(0, 0, 40, 20))
	seeThrough.SetNRGBA(0, 0, color.NRGBA{255, 0, 0, 255})
	file := pngOf(t, seeThrough)
	hidden := append(append([]byte{}, file...), "owner and position"...)
	logo, err := ReadLogo(save(t, "logo.png", hidden))
	require.NoError(t, err)
	assert.NotContains(t, string(logo.Data), "position")
	drawn, err := png.Decode(bytes.NewReader(logo.Data))
	require.NoError(t, err)
	assert.Equal(t, color.NRGBAModel.Convert(color.White), color.NRGBAModel.Convert(drawn.At(20, 10)))
	assert.Equal(t, color.NRGBA{255, 0, 0, 255}, color.NRGBAModel.Convert(drawn.At(0, 0)))
}

func TestLogoThatIsNoPictureIsRefused(t *testing.T) {
	var animation bytes.Buffer
	require.NoError(
		t,
		gif.Encode(&animation, image.NewPaletted(image.Rect(0, 0, 9, 9), color.Palette{color.Black}), nil),
	)
	whole := pngOf(t, image.NewGray(image.Rect(0, 0, 50, 50)))
	bomb := append([]byte{}, whole...)
	copy(bomb[16:24], []byte{0, 0, 0x9c, 0x40, 0, 0, 0x9c, 0x40}) // claims 40 000 x 40 000; the checksum is wrong, too
	for name, content := range map[string][]byte{
		"text": []byte("not a picture"), "empty": nil, "half": whole[:len(whole)-20], "bomb": bomb, "gif": animation.Bytes(),
		"svg": []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`),
	} {
		_, err := ReadLogo(save(t, "logo.png", content))
		assert.ErrorIs(t, err, ErrLogo, name)
	}
	scanned, err := os.ReadFile("../photo/testdata/progressive.jpg")
	require.NoError(t, err)
	last := bytes.LastIndex(scanned, []byte{0xff, 0xda})
	scanned = append(scanned[:last:last], bytes.Repeat(scanned[last:len(scanned)-2], limit.PhotoScans)...)
	_, err = ReadLogo(save(t, "logo.jpg", append(scanned, 0xff, 0xd9)))
	assert.ErrorContains(t, err, "scans, more than 100")
	_, err = ReadLogo("no-such.png")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

func TestPicturesKeepTheirLimit(t *testing.T) {
	noise := image.NewGray(image.Rect(0, 0, 1600, 1200))
	state := uint32(1)
	for i := range noise.Pix {
		state = state*1664525 + 1013904223
		noise.Pix[i] = uint8(state >> 24)
	}
	for _, limit := range []int{200_000, 60_000} {
		p, err := NewPhotoPicture(noise, limit)
		require.NoError(t, err)
		assert.LessOrEqual(t, len(p.Data), limit)
		assert.Equal(t, p.Width*3, p.Height*4, "the shape stays")
	}
	small, err := NewPhotoPicture(noise.SubImage(image.Rect(10, 10, 210, 170)), 60_000)
	require.NoError(t, err)
	assert.Equal(t, [2]int{200, 160}, [2]int{small.Width, small.Height}, "never enlarged")
}
