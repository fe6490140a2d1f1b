package score

import (
	"image"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestMasksAreWrittenWholeAndRepeat(t *testing.T) {
	dir := t.TempDir()
	r := scored()
	r.Region.Mask.Pix[5], r.Deposit.Map.Pix[5] = 2, 254
	require.NoError(t, WriteMasks(dir, []*Result{r}))
	first, err := os.ReadFile(filepath.Join(dir, r.Label+RegionSuffix))
	require.NoError(t, err)
	require.NoError(t, WriteMasks(dir, []*Result{r}), "a mask is replaced")
	second, err := os.ReadFile(filepath.Join(dir, r.Label+RegionSuffix))
	require.NoError(t, err)
	assert.Equal(t, first, second)

	file, err := os.Open(filepath.Join(dir, r.Label+DepositSuffix))
	require.NoError(t, err)
	defer file.Close()
	picture, _, err := image.Decode(file)
	require.NoError(t, err)
	assert.Equal(t, r.Deposit.Map.Pix, picture.(*image.Gray).Pix, "8-bit grey with the values themselves")
}

func TestFailedPictureLeavesNoFile(t *testing.T) {
	dir := t.TempDir()
	assert.Error(
		t,
		WritePNG(filepath.Join(dir, "empty.png"), image.NewGray(image.Rectangle{})),
		"PNG knows no empty picture",
	)
	assert.Error(t, WritePNG(filepath.Join(dir, "missing", "a.png"), image.NewGray(image.Rect(0, 0, 2, 2))))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, left)
}

func TestRefusedPhotoHasNoMasks(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, WriteMasks(dir, []*Result{refused()}))
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Empty(t, left)
}
