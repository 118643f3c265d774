package stackup

// Foil is a kind of copper foil: what of it decides how long it lives in bending and whether it stays bent.
type Foil struct {
	Material  string  // built-in material it belongs to
	Ductility float64 // fatigue ductility Df, a fraction
	Strength  float64 // tensile strength Su, MPa
	Modulus   float64 // GPa
	Yield     float64 // MPa; 0 = not known, no more than Strength
	// Allowed elongations as commonly quoted from IPC-2223, fractions; 0 = none quoted.
	Crease, Install, Dynamic float64
	Source                   string
}

// Foils returns the kinds of foil with typical figures. A fabricator's or foil maker's go before them: life answers to
// ductility more than to anything else.
func Foils() []Foil {
	return []Foil{
		{Material: "copper-ra", Ductility: 0.65, Strength: 140, Modulus: 117, Yield: 120, Crease: 0.16, Install: 0.10, Dynamic: 0.003,
			Source: "rolled annealed. Ductility: the least for annealed wrought foil set after a round robin of seven laboratories (1987), read; as-rolled foil 0.30, " +
				"low-temperature-annealable 0.25 (doubtful). Strength 140 to 220 MPa, the least taken; yield 70 to 140 MPa; allowed elongations: recalled, not checked. " +
				"Modulus of bulk copper; foil measured in tension gives 60 to 110 GPa"},
		{Material: "copper-ed", Ductility: 0.30, Strength: 280, Modulus: 117, Crease: 0.11,
			Source: "electrodeposited. Ductility 0.1 to 0.4, strength 207 to 350 MPa, allowed elongation: recalled, not checked. Grades differ widely: of seven tested beside " +
				"rolled foil two matched it (1999, read in abstract). Modulus of bulk copper; foil measured in tension gives 60 to 110 GPa"},
	}
}

// FoilOf returns the foil of a material of this name, and whether there is one.
func FoilOf(material string) (Foil, bool) {
	for _, f := range Foils() {
		if f.Material == material {
			return f, true
		}
	}
	return Foil{}, false
}
