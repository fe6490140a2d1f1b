package texture

// Picture is a grey picture of which only a part counts, row by row.
type Picture struct {
	Width, Height int
	// Value holds Width*Height grey values of any scale; what lies outside is ignored and may hold anything but NaN.
	Value []float32
	// Inside says of each pixel whether it counts; nil means that all do.
	Inside []bool
}

// Reduce returns the picture shrunk by a whole factor: each pixel is the mean of the inside pixels of a factor x factor
// block, and is inside when at least half of the block is. Blocks cut off by the right or lower border are dropped.
func (p Picture) Reduce(factor int) Picture {
	small := Picture{Width: p.Width / factor, Height: p.Height / factor}
	small.Value = make([]float32, small.Width*small.Height)
	small.Inside = make([]bool, small.Width*small.Height)
	for y := range small.Height {
		for x := range small.Width {
			sum, count := p.block(x*factor, y*factor, factor)
			if 2*count >= factor*factor {
				small.Value[y*small.Width+x] = sum / float32(count)
				small.Inside[y*small.Width+x] = true
			}
		}
	}
	return small
}

// block returns the sum and the number of inside pixels of a square of the given side.
func (p Picture) block(left, top, side int) (sum float32, count int) {
	for y := top; y < top+side; y++ {
		values := p.Value[y*p.Width+left:][:side]
		if p.Inside == nil {
			for _, v := range values {
				sum += v
			}
			count += side
			continue
		}
		for x, inside := range p.Inside[y*p.Width+left:][:side] {
			if inside {
				sum += values[x]
				count++
			}
		}
	}
	return sum, count
}

func (p Picture) inside(i int) bool { return p.Inside == nil || p.Inside[i] }
