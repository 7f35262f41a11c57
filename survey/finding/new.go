package finding

// Argument is one thing that a sentence names. What makes one is called in some
// hundred places: inlined there it would be a fiftieth of the engine that a phone
// loads.
type Argument func(f *Finding)

// New returns a finding of a code with the arguments of its sentence.
// TestFindingsHaveTheirArguments of cmd/repotest holds every call to it.
//
//go:noinline
func (c Code) New(arguments ...Argument) Finding {
	f := Finding{Code: c}
	for _, a := range arguments {
		a(&f)
	}
	return f
}

// Number names a number: metres, degrees, a share of one or a count.
//
//go:noinline
func Number(name string, v float64) Argument {
	return func(f *Finding) {
		if f.Numbers == nil {
			f.Numbers = map[string]float64{}
		}
		f.Numbers[name] = v
	}
}

// Word names something that is not a part of the sketch: a hole, a file, what
// is written on a sheet.
//
//go:noinline
func Word(name, w string) Argument {
	return func(f *Finding) {
		if f.Words == nil {
			f.Words = map[string]string{}
		}
		f.Words[name] = w
	}
}

// Parts names parts or landmarks by their ids, or a kind of them.
//
//go:noinline
func Parts(ids ...string) Argument {
	return func(f *Finding) { f.Parts = append(f.Parts, ids...) }
}

// Odds names parts with the probability of each: the numbers have it under
// their ids.
func Odds(parts []string, odds map[string]float64) Argument {
	return func(f *Finding) {
		for _, id := range parts {
			Parts(id)(f)
			Number(id, odds[id])(f)
		}
	}
}

// Readings names readings by their ids.
//
//go:noinline
func Readings(ids ...string) Argument {
	return func(f *Finding) { f.Readings = append(f.Readings, ids...) }
}

// About names the finding that this one is about.
//
//go:noinline
func About(of Finding) Argument {
	return func(f *Finding) { f.Of = &of }
}
