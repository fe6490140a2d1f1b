// Package heic runs the HEIC decoder of github.com/gen2brain/heic, libheif and libde265 compiled to WebAssembly, under
// bounds of memory and time, which that package does not set: a file says in one place how large its picture is, and
// may hold another in the next.
//
// Decode may be called by several goroutines at the same time; each call has a machine of its own.
package heic

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io"
	"sync"
	_ "unsafe" // for the decoder's program

	"valvegrade/internal/limit"

	_ "github.com/gen2brain/heic"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"
)

// compressed is the decoder's program as that module carries it, so that replacing the module replaces the decoder.
//
//go:linkname compressed github.com/gen2brain/heic.heifWasm
var compressed []byte

// ErrDamaged is wrapped by every error about the file; a context that ends gives its own error.
var ErrDamaged = errors.New("heic: cannot be decoded")

// pageBytes is the unit of WebAssembly's memory.
const pageBytes = 64 << 10

// mostBytes is the memory that the decoder may take. What it does not get it reports as a damaged file.
const mostBytes = limit.HEICMemory

// machine is the compiled decoder. Compiling takes about a second, so it waits for the first photo that needs it.
var machine = sync.OnceValues(func() (*compiled, error) {
	unpacked, err := gzip.NewReader(bytes.NewReader(compressed))
	if err != nil {
		return nil, err
	}
	program, err := io.ReadAll(unpacked)
	if err != nil {
		return nil, err
	}
	ctx := context.Background()
	runtime := wazero.NewRuntimeWithConfig(ctx, wazero.NewRuntimeConfig().WithMemoryLimitPages(mostBytes/pageBytes))
	if _, err := wasi_snapshot_preview1.Instantiate(ctx, runtime); err != nil {
		return nil, err
	}
	module, err := runtime.CompileModule(ctx, program)
	return &compiled{runtime, module}, err
})

type compiled struct {
	runtime wazero.Runtime
	module  wazero.CompiledModule
}

// Decode decodes the primary image of a file, upright, once check agrees to its size. The error wraps ErrDamaged, or is
// check's or the context's. The picture shares no memory with data.
func Decode(ctx context.Context, data []byte, check func(image.Point) error) (image.Image, error) {
	m, err := machine()
	if err != nil {
		return nil, err
	}
	own, err := newMemory()
	if err != nil {
		return nil, fmt.Errorf("heic: no memory: %w", err)
	}
	lend := experimental.MemoryAllocatorFunc(func(_, _ uint64) experimental.LinearMemory { return own })
	module, err := m.runtime.InstantiateModule(
		experimental.WithMemoryAllocator(ctx, lend),
		m.module,
		wazero.NewModuleConfig().WithName(""),
	)
	if err != nil {
		own.Free()
		return nil, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	defer module.Close(context.WithoutCancel(ctx)) // frees the memory
	ended, watched := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(watched)
		own.spoilAfter(ctx.Done(), ended)
	}()
	picture, err := (&decoder{module}).decode(data, check)
	close(ended)
	<-watched
	if ctx.Err() != nil { // whatever came out of spoilt memory
		return nil, ctx.Err()
	}
	return picture, err
}

// decoder is one run of the program.
type decoder struct{ module api.Module }

// facts are what the program tells of a picture, in the order of its arguments: five numbers of 32 bits.
type facts struct{ Width, Height, Space, Chroma, Premultiplied uint32 }

const factsBytes = 4 * 5

func (d *decoder) decode(data []byte, check func(image.Point) error) (image.Image, error) {
	file, err := d.room(uint64(len(data)))
	if err != nil {
		return nil, err
	}
	if !d.module.Memory().Write(file, data) {
		return nil, ErrDamaged
	}
	told, err := d.room(factsBytes)
	if err != nil {
		return nil, err
	}
	f, err := d.run(file, len(data), told, 0)
	if err != nil {
		return nil, err
	}
	if err := check(image.Pt(int(f.Width), int(f.Height))); err != nil {
		return nil, err
	}
	form, err := f.layout()
	if err != nil {
		return nil, err
	}
	pixels, err := d.room(uint64(form.bytes))
	if err != nil {
		return nil, err
	}
	if _, err := d.run(file, len(data), told, pixels); err != nil {
		return nil, err
	}
	out, ok := d.module.Memory().Read(pixels, uint32(form.bytes))
	if !ok {
		return nil, ErrDamaged
	}
	return form.picture(bytes.Clone(out)), nil // the machine's memory, ten times as large, can go
}

// room asks the program for memory.
func (d *decoder) room(bytes uint64) (uint32, error) {
	got, err := d.module.ExportedFunction("malloc").Call(context.Background(), bytes)
	if err != nil {
		return 0, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	if got[0] == 0 {
		return 0, fmt.Errorf("%w: it takes more than %d MiB", ErrDamaged, mostBytes>>20)
	}
	return uint32(got[0]), nil
}

// run calls the program: with pixels 0 it only tells the facts, else it decodes to there.
func (d *decoder) run(file uint32, length int, told, pixels uint32) (f facts, err error) {
	onlyFacts := uint64(0)
	if pixels == 0 {
		onlyFacts = 1
	}
	at := uint64(told)
	done, err := d.module.ExportedFunction("decode").
		Call(context.Background(), uint64(file), uint64(length), onlyFacts, at, at+4, at+8, at+12, at+16, uint64(pixels))
	if err != nil {
		return f, fmt.Errorf("%w: %w", ErrDamaged, err)
	}
	text, ok := d.module.Memory().Read(told, factsBytes)
	if done[0] == 0 || !ok {
		return f, ErrDamaged
	}
	_, err = binary.Decode(text, binary.LittleEndian, &f)
	return f, err
}
