package rule

// CreaseRatio is the ratio of inside radius to thickness below which flex is creased rather than bent and cannot be built
// (common practice, no source).
const CreaseRatio = crease

// ProfileOf returns the built-in profile of this name, the default one for any other.
func ProfileOf(name string) Profile {
	for _, p := range Profiles() {
		if p.Name == name {
			return p
		}
	}
	return Profiles()[0]
}
