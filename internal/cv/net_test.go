package cv_test

import (
	"os"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"valvegrade/internal/cv"
)

// The nets of testdata/nets.py: double = 2 * image, sums = the sum of each plane.
var (
	tinyShape   = cv.NetShape{Channels: 2, Height: 4, Width: 6}
	tinyOutputs = []string{"double", "sums"}
)

func onnxFile(t testing.TB, name string) []byte {
	data, err := os.ReadFile("testdata/" + name)
	require.NoError(t, err)
	return data
}

func tinyNet(t testing.TB) *cv.Net {
	net, err := cv.ReadNet(onnxFile(t, "good.onnx"), tinyShape, tinyOutputs)
	require.NoError(t, err)
	t.Cleanup(net.Close)
	return net
}

// ramp returns n values start, start+1, ... : whole numbers, so that sums are exact in float32.
func ramp(start float32, n int) []float32 {
	values := make([]float32, n)
	for i := range values {
		values[i] = start + float32(i)
	}
	return values
}

func TestForwardComputesEachNamedOutput(t *testing.T) {
	net := tinyNet(t)
	assert.Equal(t, []int{48, 2}, net.Lengths())
	input := ramp(0, 48)
	outputs, err := net.Forward(input)
	require.NoError(t, err)
	require.Len(t, outputs, 2)
	for i, v := range outputs[0] {
		assert.Equal(t, 2*input[i], v)
	}
	// 0+...+23 and 24+...+47; OpenCV sums in another order and divides by 24 in between, hence the delta.
	assert.InDeltaSlice(t, []float32{276, 852}, outputs[1], 1e-3)
}

func TestOutputsFollowTheOrderAskedFor(t *testing.T) {
	net, err := cv.ReadNet(onnxFile(t, "good.onnx"), tinyShape, []string{"sums", "double"})
	require.NoError(t, err)
	defer net.Close()
	assert.Equal(t, []int{2, 48}, net.Lengths())
}

func TestResultsSurviveTheNextRun(t *testing.T) {
	net := tinyNet(t)
	first, err := net.Forward(ramp(0, 48))
	require.NoError(t, err)
	_, err = net.Forward(ramp(100, 48))
	require.NoError(t, err)
	assert.Equal(t, float32(2), first[0][1], "OpenCV reuses its matrices: results must be copies")
}

func TestOneNetServesManyCallersWithoutMixingThem(t *testing.T) {
	net := tinyNet(t)
	var all sync.WaitGroup
	for caller := range 4 {
		all.Go(func() {
			for range 50 {
				outputs, err := net.Forward(ramp(float32(1000*caller), 48))
				assert.NoError(t, err)
				assert.Equal(t, float32(2000*caller), outputs[0][0])
			}
		})
	}
	all.Wait()
}

func TestWrongInputIsAnErrorAndTheNetGoesOn(t *testing.T) {
	net := tinyNet(t)
	for _, n := range []int{0, 1, 47, 49, 96} {
		_, err := net.Forward(make([]float32, n))
		assert.ErrorContains(t, err, "the net takes 48")
	}
	_, err := net.Forward(ramp(0, 48))
	assert.NoError(t, err)
}

func TestClosedNetIsAnError(t *testing.T) {
	net := tinyNet(t)
	net.Close()
	net.Close()
	_, err := net.Forward(ramp(0, 48))
	assert.ErrorIs(t, err, cv.ErrClosed)
}

func TestBytesThatAreNoUsableNetAreErrors(t *testing.T) {
	good := onnxFile(t, "good.onnx")
	bytes := map[string][]byte{
		"nil":         nil,
		"one byte":    {0},
		"text":        []byte("this is a photo, honestly"),
		"zeros":       make([]byte, 4096),
		"refused op":  onnxFile(t, "relu6.onnx"),
		"head lost":   good[7:],
		"middle lost": append(append([]byte{}, good[:100]...), good[200:]...),
	}
	for name, data := range bytes {
		t.Run(name, func(t *testing.T) {
			_, err := cv.ReadNet(data, tinyShape, tinyOutputs)
			assert.Error(t, err)
		})
	}
}

func TestEveryTruncationOfANetIsAnError(t *testing.T) {
	good := onnxFile(t, "good.onnx")
	// The last message of the file is the opset: all bytes before it are needed to run the net.
	const opset = 4
	for n := range len(good) - opset {
		_, err := cv.ReadNet(good[:n], tinyShape, tinyOutputs)
		assert.Error(t, err, "cut to %d of %d bytes", n, len(good))
	}
}

func TestLengthsTellWhatANetMakesOfAnotherShape(t *testing.T) {
	shape := cv.NetShape{Channels: 2, Height: 8, Width: 12}
	net, err := cv.ReadNet(onnxFile(t, "good.onnx"), shape, tinyOutputs)
	require.NoError(t, err)
	defer net.Close()
	assert.Equal(t, []int{192, 2}, net.Lengths())
}

func TestNetThatDoesNotFitIsAnError(t *testing.T) {
	good := onnxFile(t, "good.onnx")
	shapes := map[string]cv.NetShape{
		"zero":     {},
		"negative": {Channels: 2, Height: -4, Width: 6},
		"huge":     {Channels: 2, Height: 1 << 30, Width: 1 << 30},
		"channels": {Channels: 3, Height: 4, Width: 6},
	}
	for name, shape := range shapes {
		t.Run(name, func(t *testing.T) {
			_, err := cv.ReadNet(good, shape, tinyOutputs)
			assert.Error(t, err)
		})
	}
	for _, outputs := range [][]string{nil, {"none"}, {"double", ""}} {
		_, err := cv.ReadNet(good, tinyShape, outputs)
		assert.Error(t, err, "outputs %q", outputs)
	}
}
