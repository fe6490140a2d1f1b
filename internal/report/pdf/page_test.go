package pdf

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// solid is a block that cannot be divided.
type solid struct{ high float64 }

func (b solid) height(float64) float64                 { return b.high }
func (b solid) draw(*sheet, float64, float64, float64) {}

func (b solid) natural() float64   { return 10 }
func (b solid) narrowest() float64 { return 5 }

func title2(text string) heading {
	return heading{words{style: chapter, text: text}, 0}
}

func TestBlocksThatDoNotFitBeginAPage(t *testing.T) {
	pages := paginate([]block{solid{60}, gap(10), solid{60}, gap(50), gap(5), solid{20}}, 100, 100)
	assert.Equal(
		t,
		[]page{{{solid{60}, 0}, {gap(10), 60}}, {{solid{60}, 0}}, {{solid{20}, 0}}},
		pages,
		"gaps do not begin a page",
	)
}

func TestStackStaysTogetherIfAPageHoldsIt(t *testing.T) {
	valve := stack{solid{30}, solid{30}, solid{30}}
	pages := paginate([]block{solid{20}, valve}, 100, 100)
	assert.Equal(t, []page{{{solid{20}, 0}}, {{valve, 0}}}, pages)
}

func TestHeadingIsNeverLastOnAPage(t *testing.T) {
	high := title2("x").height(100)
	// Room for the heading, but not for what follows it; and the whole is too high for one page.
	pages := paginate([]block{solid{100 - high - 2}, stack{title2("x"), gap(1), solid{60}, solid{60}}}, 100, 100)
	assert.Len(t, pages, 3)
	assert.Len(t, pages[0], 1)
	assert.Equal(t, stack{title2("x"), gap(1), solid{60}}, pages[1][0].block)
}

// What is said of a cylinder stands on the page of its first valve's photos.
func TestLeadingLinesGoWithWhatTheyLeadTo(t *testing.T) {
	lines := leading{title2("x"), solid{20}}
	photos := solid{50}
	pages := paginate([]block{solid{30}, stack{lines, stack{title2("y"), photos, solid{40}}}}, 100, 100)
	assert.Equal(t, []page{{{solid{30}, 0}}, {{stack{lines, stack{title2("y"), photos}}, 0}}, {{solid{40}, 0}}}, pages)
	// Lines that no page holds together with a photo let go of it.
	pages = paginate([]block{stack{leading{title2("x"), solid{60}}, solid{90}}}, 100, 100)
	assert.Len(t, pages, 2)
}

func TestAChartYieldsToWhatStandsAroundIt(t *testing.T) {
	drawn := yielding{chart{nil, 100, 100, 30}, stack{solid{5}}, []block{gap(2), solid{13}}, 20}
	heights := func(pages []page) (high []float64) {
		for _, p := range pages {
			for _, b := range p {
				high = append(high, b.height(100))
			}
		}
		return high
	}
	for used, want := range map[float64][]float64{
		40: {40, 35, 2, 13}, // room for all
		55: {55, 30, 2, 13}, // the chart is 25 high
		70: {70, 30},        // too little for what comes after: as high as there is room
		80: {80, 35, 2, 13}, // no room for the chart
	} {
		pages := paginate([]block{solid{used}, drawn}, 100, 100)
		got := heights(pages)
		assert.InDeltaSlice(t, want, got[:len(want)], 1e-9, used)
		assert.Equal(t, used == 80, len(pages[0]) == 1, used)
	}
}

func TestTableRepeatsItsHead(t *testing.T) {
	long := table{head: []sized{solid{8}}}
	for range 25 {
		long.rows = append(long.rows, []sized{solid{8}})
	}
	pages := paginate([]block{solid{85}, long}, 100, 100)
	rowHeight := 8 + 2*cellPadding
	// 9 rows a page with their head, each 10.2 mm high.
	assert.InDelta(t, 10.2, rowHeight, 1e-9, "the sums below rest on it")
	assert.Len(t, pages, 5, "the head does not stay behind on the first page")
	assert.Len(t, pages[0], 1)
	for _, p := range pages[2:] {
		row, ok := p[0].block.(*tableRow)
		assert.True(t, ok)
		assert.Nil(t, row.head, "a head is a row without one")
	}
}

func TestColumnsOfATableShareTheWidth(t *testing.T) {
	const close = 1e-6 // halving a page forty times is exact to far less
	assert.InDeltaSlice(t, []float64{10, 40, 40}, shared(make([]float64, 3), []float64{10, 90, 60}, 90), close)
	assert.InDeltaSlice(t, []float64{10, 50, 30}, shared([]float64{0, 50, 0}, []float64{10, 90, 60}, 90), close)
	assert.InDeltaSlice(t, []float64{10, 20}, shared(make([]float64, 2), []float64{10, 20}, 90), close)
	narrow := table{head: []sized{solid{1}, solid{1}}}
	assert.Equal(t, []float64{10, 10}, narrow.columnWidths(100), "no wider than asked for")
}

// A table of many columns is broken between words and not within them.
func TestATableTearsNoWordApart(t *testing.T) {
	cell := func(text string) words { return words{style: cell, text: text} }
	head := []sized{cell("Ablagerungsindex"), cell("Gereinigt mit viel Geduld und einer Bürste aus Messing")}
	row := []sized{plate{words: cell("zugebacken, vielleicht verkrustet")}, cell("57 bis 100")}
	wide := head[0].narrowest() + head[1].narrowest() + row[0].narrowest() + 2*cellGap
	t1 := table{head: append(head, cell("Ventil")), rows: [][]sized{append(row, cell("zugebacken"))}}
	widths := t1.columnWidths(wide)
	for _, cells := range append(t1.rows, t1.head) {
		for n, c := range cells {
			assert.GreaterOrEqual(t, widths[n], c.narrowest())
		}
	}
	hash := cell("0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef")
	assert.LessOrEqual(t, table{head: []sized{hash, cell("Ventil")}}.columnWidths(40)[0], 40.0, "a word wider than the page gives way")
}

// Whatever the blocks: each is on a page once, in order, and pages are not overfull, unless by a single part that
// cannot be divided.
func TestPagesHoldEverythingOnce(t *testing.T) {
	var tree func(depth int) *rapid.Generator[block]
	tree = func(depth int) *rapid.Generator[block] {
		leaf := rapid.Map(rapid.IntRange(1, 130), func(h int) block { return solid{float64(h)} })
		if depth == 0 {
			return leaf
		}
		stacked := rapid.Map(rapid.SliceOfN(tree(depth-1), 1, 5), func(b []block) block { return stack(b) })
		headed := rapid.Map(
			rapid.SliceOfN(tree(depth-1), 1, 3),
			func(b []block) block { return append(stack{title2("x"), gap(1)}, b...) },
		)
		led := rapid.Map(
			rapid.SliceOfN(tree(depth-1), 2, 4),
			func(b []block) block { return stack{leading(append(stack{title2("x")}, b[1:]...)), b[0]} },
		)
		side := rapid.Map(
			rapid.SliceOfN(tree(depth-1), 2, 2),
			func(b []block) block { return columns{gutter: 2, blocks: b} },
		)
		return rapid.OneOf(leaf, stacked, headed, led, side)
	}
	rapid.Check(t, func(t *rapid.T) {
		blocks := rapid.SliceOfN(tree(3), 0, 8).Draw(t, "blocks")
		var placed []block
		for _, p := range paginate(blocks, 100, 100) {
			for n, b := range p {
				high := b.height(100)
				if b.y+high > 100.001 && n > 0 {
					t.Fatalf("a block ends at %.1f of 100", b.y+high)
				}
				if parts := partsOf(b.block, 100); high > 100 && len(parts) > 1 {
					t.Fatalf("a block of %.1f could be divided into %d", high, len(parts))
				}
				placed = append(placed, b.block)
			}
		}
		want, got := solids(blocks), solids(placed)
		if want != got {
			t.Fatalf("%v became %v", want, got)
		}
	})
}

// solids sums what may not be lost: the number of solid blocks and their heights.
func solids(blocks []block) (sum struct {
	count  int
	height float64
}) {
	for _, b := range blocks {
		inner := struct {
			count  int
			height float64
		}{}
		switch b := b.(type) {
		case solid:
			inner.count, inner.height = 1, b.high
		case stack:
			inner = solids(b)
		case leading:
			inner = solids(b)
		case columns:
			inner = solids(b.blocks)
		}
		sum.count += inner.count
		sum.height += inner.height
	}
	return sum
}
