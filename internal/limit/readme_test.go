package limit

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// README tells the bounds that hold.
func TestReadmeTellsTheLimits(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, section, found := strings.Cut(string(text), "\n## What is refused\n")
	require.True(t, found)
	section, _, _ = strings.Cut(section, "\n## ")
	section = strings.Join(strings.Fields(section), " ")
	for _, said := range []string{
		fmt.Sprintf("%d MiB; %d million pixels", PhotoBytes>>20, PhotoPixels/1_000_000),
		fmt.Sprintf("%d pixels a side; %d scans in a JPEG; %d MiB for the file", PhotoSide, PhotoScans, PhotoMemory>>20),
		fmt.Sprintf("%d MiB inside the HEIC decoder; %.0f s to read", HEICMemory>>20, PhotoTime.Seconds()),
		fmt.Sprintf("Below %d pixels", PhotoShortSide),
		fmt.Sprintf("| %d MiB; %d objects and lists, %d values, %d levels |", SavedBytes>>20, SavedGroups, SavedValues, SavedDepth),
		fmt.Sprintf("| %d MiB; %d ratings by %d raters |", RatingBytes>>20, Ratings, Raters),
		fmt.Sprintf("| %d KiB; %d parts, %d entries in one place, %d levels |", FormBytes>>10, FormParts, FormEntries, FormDepth),
		fmt.Sprintf("| marks | %d KiB |", MarksBytes>>10),
		fmt.Sprintf("| shop file | %d KiB |", ShopBytes>>10),
		fmt.Sprintf("| logo, net | %d MiB and %d million pixels; %d MiB |", LogoBytes>>20, LogoPixels/1_000_000, NetBytes>>20),
		fmt.Sprintf("Photos above %d million pixels are averaged down", KeptPixels/1_000_000),
	} {
		assert.Contains(t, section, said)
	}
}
