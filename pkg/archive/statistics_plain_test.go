package archive_test

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"valvegrade/pkg/archive"
	"valvegrade/pkg/engine"
	"valvegrade/pkg/inspection"
	"valvegrade/pkg/measure"
	"valvegrade/pkg/score"
)

// visit is an invented inspection with its results, and what was overruled in it: measured grade and grade by hand.
type visit struct {
	*engine.Graded
	overruled [][2]*int
}

// fleet is an invented archive: vehicles with one to five visits each, some before and after a cleaning, some photos
// refused, some valves taken twice, some grades overruled.
func fleet(t *testing.T, a *archive.Archive, vehicles int) []visit {
	random := rand.New(rand.NewPCG(7, 1))
	pick := func(of ...string) string { return of[random.IntN(len(of))] }
	var all []visit
	for v := range vehicles {
		card := inspection.JobCard{Family: pick("", "two litre", "three litre")}
		day, km := time.Date(2021, 1, 1+random.IntN(900), 0, 0, 0, 0, time.UTC), 30_000+random.IntN(90_000)
		stage := inspection.Routine
		for range 1 + random.IntN(5) {
			c := car{name: fmt.Sprint("car ", v), stage: stage, card: card}
			c.card.Technician, c.card.Job = pick("", "Ann", "Bo", "Cid"), fmt.Sprint("J", random.IntN(20))
			c.day, c.km = day.Format(time.DateOnly), float64(km)
			for n := range c.index {
				c.index[n] = 100 * random.Float64()
				if random.IntN(6) == 0 {
					c.index[n] = math.NaN()
				}
			}
			if stage == inspection.After && random.IntN(3) > 0 { // else nothing says which were cleaned
				c.methods = map[int]string{1: pick("blasting", "Blasting"), 3: pick("blasting", "soaking")}
			}
			all = append(all, visited(t, a, c, random))
			stage = []inspection.Stage{inspection.Routine, inspection.Before, inspection.After}[random.IntN(3)]
			day, km = day.AddDate(0, 0, 1+random.IntN(45)), km+random.IntN(300)
		}
	}
	return all
}

// visited adds a visit. Now and then a valve is photographed again, and a grade overruled.
func visited(t *testing.T, a *archive.Archive, c car, random *rand.Rand) visit {
	i, document, indices := c.facts(t), score.NewDocument(version), c.index[:]
	if random.IntN(3) == 0 {
		i.Photos = append(i.Photos, inspection.Photo{File: "again.jpg", Cylinder: 2, Valve: 1})
		indices = append(indices, 100*random.Float64())
	}
	for n, p := range i.Photos {
		r := record(p.File, archive.Hash(fmt.Append(nil, c.name, c.day, c.stage, c.km, n)), version, indices[n])
		if r.Status == score.Scored { // another figure than the index
			r.WrittenDark = measure.WriteDark(measure.Exactly(0.7 * indices[n]))
		}
		document.Photos = append(document.Photos, r)
	}
	graded, err := engine.Together(i, document)
	require.NoError(t, err)
	_, id, err := a.Add(context.Background(), archive.FromSaved(graded, "test"))
	require.NoError(t, err)
	v := visit{Graded: graded}
	if random.IntN(4) == 0 {
		o := archive.Overruled{Cylinder: 1 + random.IntN(4), Valve: 1, Grade: random.IntN(5), Who: "Dee", Why: "looked again"}
		require.NoError(t, a.Overrule(context.Background(), id, o))
		v.overruled = append(v.overruled, [2]*int{gradeAt(graded.Engine.Cylinders[o.Cylinder-1].Index.Value), &o.Grade})
	}
	return v
}

// gradeAt is the scale, written out; nil for NaN.
func gradeAt(index float64) *int {
	if math.IsNaN(index) {
		return nil
	}
	n := 0
	for _, from := range []float64{2, 15, 40, 70} {
		if index >= from {
			n++
		}
	}
	return &n
}

func (v visit) facts() *inspection.Inspection { return v.Engine.Inspection }

func (v visit) km() int { return int(math.Round(v.facts().Odometer.In(inspection.Kilometres))) }

// dark is the mean over the photos of a cylinder, 0 for all.
func (v visit) dark(cylinder int) (all average) {
	for n, p := range v.facts().Photos {
		if r := v.Photos[n]; r.Status == score.Scored && (cylinder == 0 || p.Cylinder == cylinder) {
			all.add(r.DarkFigure().Value)
		}
	}
	return all
}

// average is the mean of what was added, apart from NaN.
type average struct {
	sum float64
	n   int
}

func (a *average) add(v float64) {
	if !math.IsNaN(v) {
		a.sum, a.n = a.sum+v, a.n+1
	}
}

func (a average) mean() *float64 {
	if a.n == 0 {
		return nil
	}
	return new(a.sum / float64(a.n))
}

func (a average) or(nothing float64) float64 {
	if a.n == 0 {
		return nothing
	}
	return a.sum / float64(a.n)
}

// before is the last inspection before a cleaning that may belong to a cleaned state: a month and 200 km at most. A routine
// one is where there is no other.
func (v visit) before(all []visit) *visit {
	var last *visit
	for n, b := range all {
		days := v.facts().Date.Sub(b.facts().Date).Hours() / 24
		if b.facts().Vehicle != v.facts().Vehicle || b.facts().Stage == inspection.After || days < 0 || days > 31 ||
			math.Abs(float64(b.km()-v.km())) > 200 {
			continue
		}
		told := func(o *visit) bool { return o.facts().Stage == inspection.Before }
		if last == nil || told(&all[n]) && !told(last) || told(&all[n]) == told(last) && !b.facts().Date.Before(last.facts().Date) {
			last = &all[n]
		}
	}
	return last
}

// pairs are what was there before and what was removed, one pair an engine.
type pairs struct{ was, removed []float64 }

// share is the removed part of all, in percent with its interval, by the residuals of each engine.
func (p pairs) share() (value, reach float64) {
	var was, removed, squares float64
	for n := range p.was {
		was, removed = was+p.was[n], removed+p.removed[n]
	}
	for n := range p.was {
		squares += math.Pow(p.removed[n]-removed/was*p.was[n], 2)
	}
	n := float64(len(p.was))
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: n - 1}.Quantile(0.975)
	return 100 * removed / was, 100 * t * math.Sqrt(n/(n-1)*squares) / was
}

// removedBy is what each method removed of the index, or of dark deposit, and from how many cylinders.
func removedBy(all, chosen []visit, dark bool) (map[string]pairs, map[string]int) {
	methods, cylinders := map[string]pairs{}, map[string]int{}
	for _, v := range chosen {
		if v.facts().Stage != inspection.After {
			continue
		}
		b := v.before(all)
		was, removed := map[string]float64{}, map[string]float64{}
		for c := range v.Engine.Cylinders {
			method, said := v.facts().Methods[c+1]
			if b == nil || !said && len(v.facts().Methods) > 0 {
				continue
			}
			x, y := b.Engine.Cylinders[c].Index.Value, v.Engine.Cylinders[c].Index.Value
			if math.IsNaN(x) || math.IsNaN(y) || x < 15 {
				continue
			}
			if dark {
				x, y = b.dark(c+1).or(math.NaN()), v.dark(c+1).or(math.NaN())
			}
			method = strings.ToLower(method)
			was[method], removed[method] = was[method]+x, removed[method]+x-y
			cylinders[method]++
		}
		for method := range was {
			p := methods[method]
			methods[method] = pairs{append(p.was, was[method]), append(p.removed, removed[method])}
		}
	}
	return methods, cylinders
}

// holds compares statistics with the chosen visits of a fleet, figure by figure.
func holds(t *testing.T, s *archive.Statistics, all, chosen []visit, method string) {
	vehicles := map[string]bool{}
	for _, v := range chosen {
		vehicles[v.facts().Vehicle] = true
	}
	assert.Equal(t, len(chosen), s.Inspections)
	assert.Equal(t, len(vehicles), s.Vehicles)
	holdsMethods(t, s.Methods, all, chosen, method)
	holdsFamilies(t, s.Families, chosen)
	holdsYears(t, s.Years, chosen)
	holdsTechnicians(t, s.Technicians, chosen)
}

// holdsMethods compares those of all methods, or of the one alone that was asked for.
func holdsMethods(t *testing.T, methods []archive.Method, all, chosen []visit, method string) {
	index, cylinders := removedBy(all, chosen, false)
	for name := range index {
		if method != "" && name != method {
			delete(index, name)
		}
	}
	dark, _ := removedBy(all, chosen, true)
	require.Len(t, methods, len(index))
	for _, m := range methods {
		m.Name = strings.ToLower(m.Name)
		assert.Equal(t, len(index[m.Name].was), m.Engines, m.Name)
		assert.Equal(t, cylinders[m.Name], m.Cylinders, m.Name)
		if m.Engines < 2 {
			continue
		}
		value, reach := index[m.Name].share()
		assert.InDelta(t, value, m.Index.Value.Value(), 0.051, m.Name)
		assert.InDelta(t, value-reach, m.Index.Low.Value(), 0.051, m.Name)
		value, reach = dark[m.Name].share()
		assert.InDelta(t, value, m.Dark.Value.Value(), 0.051, m.Name)
		assert.InDelta(t, math.Min(value+reach, 100), m.Dark.High.Value(), 0.051, m.Name)
	}
}

func holdsFamilies(t *testing.T, bands []archive.Band, chosen []visit) {
	type place struct {
		family string
		from   int
	}
	grades, index, dark := map[place]*[5]int{}, map[place]*average{}, map[place]*average{}
	for _, v := range chosen {
		grade := gradeAt(v.Engine.Worst.Value)
		if v.facts().Stage == inspection.After || grade == nil {
			continue
		}
		at := place{v.facts().Card.Family, v.km() / 50_000 * 50_000}
		if grades[at] == nil {
			grades[at], index[at], dark[at] = &[5]int{}, &average{}, &average{}
		}
		grades[at][*grade]++
		index[at].add(v.Engine.Worst.Value)
		dark[at].add(v.dark(0).or(math.NaN()))
	}
	require.Len(t, bands, len(grades))
	for _, b := range bands {
		at := place{b.Family, b.From}
		assert.Equal(t, b.From+50_000, b.To)
		require.NotNil(t, grades[at], at)
		assert.Equal(t, *grades[at], b.Grades, at)
		assert.Equal(t, grades[at][0]+grades[at][1]+grades[at][2]+grades[at][3]+grades[at][4], b.Measured, at)
		sameMean(t, index[at].mean(), b.Index)
		sameMean(t, dark[at].mean(), b.Dark)
	}
	assert.True(t, slices.IsSortedFunc(bands, func(a, b archive.Band) int {
		return cmp.Or(cmp.Compare(a.Family, b.Family), cmp.Compare(a.From, b.From))
	}))
}

func holdsYears(t *testing.T, years []archive.Year, chosen []visit) {
	made := map[int]*archive.Year{}
	index, dark := map[int]*average{}, map[int]*average{}
	for _, v := range chosen {
		at := v.facts().Date.Year()
		if made[at] == nil {
			made[at], index[at], dark[at] = &archive.Year{Year: at}, &average{}, &average{}
		}
		made[at].Inspections++
		made[at].Photos += len(v.Photos)
		made[at].Refused += v.refused()
		if v.facts().Stage != inspection.After {
			index[at].add(v.Engine.Worst.Value)
			dark[at].add(v.dark(0).or(math.NaN()))
			if !math.IsNaN(v.dark(0).or(math.NaN())) {
				made[at].Measured++
			}
		}
	}
	require.Len(t, years, len(made))
	for _, y := range years {
		sameMean(t, index[y.Year].mean(), y.Index)
		sameMean(t, dark[y.Year].mean(), y.Dark)
		y.Index, y.Dark = nil, nil
		assert.Equal(t, *made[y.Year], y)
	}
}

func (v visit) refused() (n int) {
	for _, r := range v.Photos {
		if r.Status == score.Refused {
			n++
		}
	}
	return n
}

func holdsTechnicians(t *testing.T, people []archive.Technician, chosen []visit) {
	type work struct {
		inspections, photos, refused, valves, again, overruled int
		difference                                             average
	}
	made := map[string]*work{}
	for _, v := range chosen {
		name := v.facts().Card.Technician
		if made[name] == nil {
			made[name] = &work{}
		}
		w := made[name]
		w.inspections, w.photos, w.refused = w.inspections+1, w.photos+len(v.Photos), w.refused+v.refused()
		w.valves, w.again = w.valves+4, w.again+len(v.Photos)-4
		for _, o := range v.overruled {
			w.overruled++
			if o[0] != nil {
				w.difference.add(float64(*o[1] - *o[0]))
			}
		}
	}
	require.Len(t, people, len(made))
	for _, p := range people {
		w := made[p.Name]
		require.NotNil(t, w, p.Name)
		assert.Equal(t, *w, work{p.Inspections, p.Photos, w.refused, p.Valves, w.again, p.Overruled, w.difference}, p.Name)
		assert.InDelta(t, 100*float64(w.refused)/float64(w.photos), p.Refused.Value.Value(), 0.051, p.Name)
		assert.InDelta(t, 100*float64(w.again)/float64(w.valves), p.Retaken.Value.Value(), 0.051, p.Name)
		sameMean(t, w.difference.mean(), p.Difference)
	}
}

func sameMean(t *testing.T, want, got *float64) {
	if want == nil || got == nil {
		assert.Equal(t, want, got)
		return
	}
	assert.InDelta(t, *want, *got, 0.01)
}

func TestStatisticsAreThoseOfPlainSums(t *testing.T) {
	onBoth(t, func(t *testing.T, o archive.Options) {
		a := opened(t, o)
		all := fleet(t, a, 60)
		for where, takes := range map[string]func(visit) bool{
			"":                   func(visit) bool { return true },
			"year>=2022":         func(v visit) bool { return v.facts().Date.Year() >= 2022 },
			"family=Two Litre":   func(v visit) bool { return v.facts().Card.Family == "two litre" },
			"technician!=Ann":    func(v visit) bool { return v.facts().Card.Technician != "Ann" },
			"job=j7":             func(v visit) bool { return v.facts().Card.Job == "J7" },
			"vehicle=car 3":      func(v visit) bool { return v.facts().Vehicle == "car 3" },
			"km<60000":           func(v visit) bool { return v.km() < 60_000 },
			"stage=after":        func(v visit) bool { return v.facts().Stage == inspection.After },
			"version=" + version: func(visit) bool { return true },
			"version=another":    func(visit) bool { return false },
			"method=BLASTING":    func(v visit) bool { return v.usedBlasting() },
			"method!=blasting":   func(v visit) bool { return !v.usedBlasting() },
			"grade>=3":           func(v visit) bool { g := gradeAt(v.Engine.Worst.Value); return g != nil && *g >= 3 },
		} {
			var conditions []string
			if where != "" {
				conditions = []string{where}
			}
			f, err := archive.ParseFilter(conditions)
			require.NoError(t, err)
			s, err := a.Statistics(context.Background(), f, "")
			require.NoError(t, err, where)
			var chosen []visit
			for _, v := range all {
				if takes(v) {
					chosen = append(chosen, v)
				}
			}
			method := ""
			if where == "method=BLASTING" {
				method = "blasting"
			}
			t.Run(where, func(t *testing.T) { holds(t, s, all, chosen, method) })
		}
	})
}

func (v visit) usedBlasting() bool {
	for _, method := range v.facts().Methods {
		if strings.EqualFold(method, "blasting") {
			return true
		}
	}
	return false
}
