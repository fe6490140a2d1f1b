//go:build matprofile

package cv_test

import (
	"fmt"
	"os"
	"testing"

	"gocv.io/x/gocv"
)

// TestMain fails when the tests leave a matrix open. Run with -tags matprofile, with which gocv counts them.
func TestMain(m *testing.M) {
	code := m.Run()
	if open := gocv.MatProfile.Count(); open != 0 {
		fmt.Fprintf(os.Stderr, "%d matrices were not closed:\n", open)
		if err := gocv.MatProfile.WriteTo(os.Stderr, 1); err != nil {
			fmt.Fprintln(os.Stderr, err)
		}
		code = 1
	}
	os.Exit(code)
}
