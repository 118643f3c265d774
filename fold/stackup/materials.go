package stackup

// BuiltIns returns the materials that every design may use by name. Moduli are typical values in plane at room
// temperature; a fabricator's figures go before them. Low and High say how far sources differ; figures that rest on a modulus
// share that doubt.
func BuiltIns() []Material {
	return []Material{
		{Name: "polyimide", Modulus: 2.5, Density: 1.42,
			Source: "published data of cast polyimide film (PMDA-ODA type) of 25 to 125 um at 23 C; read in a maker's data; 2.0 GPa at 200 C"},
		{Name: "polyimide-clad", Modulus: 4.8, Low: 4.8, High: 9, Density: 1.42,
			Source: "core of adhesiveless all-polyimide clads; recalled from makers' data, not checked; low-expansion films reach 5 to 9 GPa"},
		{Name: "adhesive", Modulus: 0.5, Low: 0.1, High: 0.7, Density: 1.2,
			Source: "acrylic sheet and coverlay adhesive, 0.1 to 0.7 GPa; recalled, not checked"},
		{Name: "epoxy-adhesive", Modulus: 1.75, Low: 1, High: 2.5, Density: 1.3,
			Source: "epoxy adhesive for flex, 1 to 2.5 GPa, the middle taken; recalled, not checked"},
		{Name: "copper-ra", Modulus: 117, Low: 60, High: 130, Density: 8.96, Copper: true,
			Source: "rolled annealed foil with the bulk modulus of copper, 117 to 130 GPa; foil measured in tension gives 60 to 110, depending on the method"},
		{Name: "copper-ed", Modulus: 117, Low: 60, High: 130, Density: 8.96, Copper: true,
			Source: "electrodeposited foil with the bulk modulus of copper, 117 to 130 GPa; foil measured in tension gives 60 to 110, depending on the method"},
		{Name: "fr4", Modulus: 22, Low: 15.2, High: 24, Density: 1.85,
			Source: "glass-epoxy laminate in plane: 24 GPa lengthwise, 21 crosswise in published data sheets, rounded between; least values in bending 18.6 and 15.2"},
		{Name: "lcp", Modulus: 2.8, Low: 2.2, High: 3.4, Density: 1.4,
			Source: "liquid crystal polymer film for circuits, 2.2 to 3.4 GPa, the middle taken; recalled, not checked"},
		{Name: "pet", Modulus: 4.9, Low: 3.8, High: 5, Density: 1.39,
			Source: "polyester drafting film: 4.8 GPa lengthwise, 5.0 crosswise in a maker's data; other types from 3.8"},
		{Name: "paper", Modulus: 3.5, Low: 2, High: 5, Density: 0.8,
			Source: "office paper, 2 to 5 GPa, about twice as stiff lengthwise as crosswise, the middle taken; recalled, for mock-ups only"},
	}
}

// BuiltIn returns the built-in material of this name, and whether there is one.
func BuiltIn(name string) (Material, bool) {
	for _, m := range BuiltIns() {
		if m.Name == name {
			return m, true
		}
	}
	return Material{}, false
}
