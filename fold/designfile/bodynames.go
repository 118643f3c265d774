package designfile

import (
	"regexp"
	"slices"
	"strings"

	"foldfit/fold"
)

// named is a kind of thing that users name: its prefix, and the key of the file that gives the names.
type named struct{ kind, key string }

// naming says what a name in some place of the file may stand for.
type naming struct {
	bare     []named  // kinds that a bare name may mean; it must fit one of them
	prefixed []named  // kinds that are also meant with their prefix; a bare name may mean them where it fits no other
	flats    []string // prefixes before the name of a flat
	flatN    bool     // flat-N is also meant without a prefix
}

var (
	sectionNames   = named{string(fold.KindSection), "sections"}
	bendNames      = named{string(fold.KindBend), "hinges"}
	componentNames = named{string(fold.KindComponent), "components"}
	stiffenerNames = named{string(fold.KindStiffener), "stiffeners"}
	pieceNames     = named{string(fold.KindEnclosure), "enclosure"}
	bodyNames      = []named{sectionNames, bendNames, componentNames, stiffenerNames, pieceNames}
)

// namings are the places where bodies are named, as the tag ref calls them.
var namings = map[string]naming{
	"bodies":  {bare: bodyNames, flats: []string{"flex"}, flatN: true},
	"sitters": {bare: []named{sectionNames, componentNames, stiffenerNames}, flats: []string{"flex"}},
	"pieces":  {bare: []named{pieceNames}},
	"subjects": {bare: []named{sectionNames, {"hinge", "hinges"}, componentNames, stiffenerNames, pieceNames}, prefixed: []named{bendNames, {"stackup", "stackups"}, {"target", "targets"}},
		flats: []string{"flex", "flat"}, flatN: true},
}

var (
	subName = regexp.MustCompile(`\.[0-9]+$`)
	flatN   = regexp.MustCompile(`^flat-[0-9]+$`)
)

// splitName returns the prefix of a name, "" for a bare one, and what it names, without the number of a piece of it.
func splitName(s string) (kind, name string) {
	kind, name, prefixed := strings.Cut(s, ":")
	if !prefixed {
		kind, name = "", s
	}
	return kind, subName.ReplaceAllString(name, "")
}

// bodyName checks that t can name what it must: * matches anything, and a bare name must belong to one kind only. Names of
// flats are known only once the board is divided, so that flat-N and flex: with the name of a section or stiffener pass.
func (r *reader) bodyName(t text, in naming) bool {
	kind, name := splitName(t.s)
	ofFlat := slices.Contains(in.flats, kind)
	switch {
	case strings.Contains(name, "*"), flatN.MatchString(name) && (ofFlat || kind == "" && in.flatN):
		return true
	case kind == "":
		return r.bareName(t, name, in)
	case ofFlat:
		return r.names["stiffeners"].holds(name) || r.isOneOf(t, name, r.names["sections"])
	}
	for _, k := range slices.Concat(in.bare, in.prefixed) {
		if kind == k.kind {
			return r.isOneOf(t, name, r.names[k.key])
		}
	}
	return false
}

// bareName checks that a name without a kind belongs to one thing.
func (r *reader) bareName(t text, name string, in naming) bool {
	fits := r.fitting(name, in.bare)
	switch {
	case len(fits) == 1:
		return true
	case len(fits) > 1:
		r.add(t.at, r.where()+": the name "+show(t.s)+" fits several bodies", "write "+alternatives(append(fits, r.fitting(name, in.prefixed)...)))
		return false
	case len(r.fitting(name, in.prefixed)) > 0:
		return true
	case r.full():
		r.more++
		return false
	case len(in.bare) == 1:
		return r.isOneOf(t, name, r.names[in.bare[0].key])
	}
	all := &index{what: "body"}
	for _, k := range in.bare {
		all.list = append(all.list, r.names[k.key].list...)
		all.broken = all.broken || r.names[k.key].broken
	}
	return r.isOneOf(t, name, all)
}

// fitting returns the full names that a bare name may mean.
func (r *reader) fitting(name string, kinds []named) []string {
	var fits []string
	for _, k := range kinds {
		if r.names[k.key].holds(name) {
			fits = append(fits, k.kind+":"+name)
		}
	}
	return fits
}
