package main

// twins are the boards with one thing changed, by the rule that this breaks. The values are worked out by hand from the
// sizes in the board: t thickness, w = (R + t/2) * angle the width of a symmetric bend.
var twins = []twin{
	// bend-ratio: R / t
	{"ratio-8.57", "pulse-patch", "radius of h1 from 1.4 to 1.2", marks("bend-ratio warning 8.571429", "24 7"), edits("[24, 14]], angle: 90, radius: 1.4", "[24, 14]], angle: 90, radius: 1.2")},
	{"ratio-crease", "corner-lamp", "radius from 2.5 to 0.5: 2.5 times the thickness", marks("bend-ratio error 2.5", "51 15"), edits("radius: 2.5", "radius: 0.5")},
	{"ratio-dynamic", "carriage", "radius of the moving loop from 6.5 to 4.96", marks("bend-ratio warning 80", "160 7.5"), edits("radius: 6.5", "radius: 4.96")},
	{"ratio-four-layers", "four-layer-flex", "radius from 6 to 5, t is 0.297", marks("bend-ratio warning 16.83502", "45 12.5"), edits("radius: 6", "radius: 5")},
	{"ratio-one-arm", "unequal-arms", "the strap from 0.25 to 0.3: 2.5 / 0.3", marks("bend-ratio warning 8.333333", "30 35"), edits("power: {thickness: 0.25", "power: {thickness: 0.3")},
	{"ratio-free", "free-u", "45 times asked for; drawn it has 50, but at L/D 2 the least neutral radius is 0.421168 times 10.1", marks("bend-ratio warning 42.03797", "30.1 6"), edits("clearance: {board: 0.5}", "clearance: {board: 0.5}\nlimits: {bend-ratio: 45}")},

	// bend-strain: distance of the copper from the neutral surface over the neutral radius, in per cent
	{"strain-limit", "carriage", "0.08 % asked for: 0.006 / 6.531", marks("bend-strain warning 0.09186955", "160 7.5"), edits("clearance: {board: 1}", "clearance: {board: 1}\nlimits: {bend-strain: 0.08}")},
	{"strain-thick", "carriage", "copper of 50 um, and a ratio of 60 is enough: 0.025 / 6.55", marks("bend-strain warning 0.3816794"), edits("copper-ra, thickness: 12 um", "copper-ra, thickness: 50 um", "clearance: {board: 1}", "clearance: {board: 1}\nlimits: {bend-ratio: 60}")},

	// bend-life: Engelmaier's relation solved apart for the strain range
	{"life-whole-turn", "carriage", "the loop opens flat: 0.006 / 6.531 is the strain range", marks("bend-life warning 1362741", "160 7.5"), edits("between: [175, 180]", "between: [0, 180]")},
	{"life-free", "free-u", "opened flat again and again: 0.012 / (0.842336 * 5.05) is the strain range", marks("bend-life warning 28072.7"), edits("formed: free", "formed: free, use: dynamic, cycles: 1e5", "clearance: {board: 0.5}", "clearance: {board: 0.5}\nlimits: {bend-ratio: 40}")},

	// contact-in-motion, clearance-in-motion: mm
	{"motion-sweep", "paddles", "half way, at 90 degrees, the paddle's top face stands at 25.8156, a post in its way reaches 0.05 further", marks("contact-in-motion error 0.05"), edits("clearance: {board: 0.3}", "clearance: {board: 0.3}\nenclosure:\n  post: {box: [[24, 8, 12], [25.8656, 12, 14]]}\nsequence:\n  - {bend: [neck]}")},
	{"motion-down", "overshoot", "on the way down, half way at 10, a bar reaches 0.05 into the plate", marks("contact-in-motion error 0.05"), edits("clearance: {board: 0.2}", "clearance: {board: 0.2}\nenclosure:\n  bar: {box: [[5, 5, 10.35], [6, 6, 11.35]]}\nsequence:\n  - {bend: [lower, upper]}\n  - {move: board, path: [{move: [0, 0, 20]}, {}]}")},
	{"motion-past", "overshoot", "on the way down the plate passes a bar at 0.2, where 0.5 is asked", marks("clearance-in-motion warning 0.2"), edits("clearance: {board: 0.2}", "clearance: {board: 0.2, enclosure: 0.5}\nenclosure:\n  bar: {box: [[-1.2, 5, 9], [-0.2, 6, 10]]}\nsequence:\n  - {bend: [lower, upper]}\n  - {move: board, path: [{move: [0, 0, 20]}, {}]}")},
	{"motion-along", "paddles", "slid in along x the edge passes a bar at 0.25, where 0.27 is asked", marks("clearance-in-motion warning 0.25"), edits("clearance: {board: 0.3}", "clearance: {board: 0.3, enclosure: 0.27}\nenclosure:\n  bar: {box: [[40, 20.25, 0.05], [41, 21, 0.07]]}\nsequence:\n  - {bend: [neck]}\n  - {move: board, path: [{move: [60, 0, 0]}, {}]}")},
	{"seat-below", "overshoot", "half way up from below, at -10, the plate's top runs 0.05 into the post on which it has its seat", marks("contact-in-motion error 0.05"), edits("clearance: {board: 0.2}", "clearance: {board: 0.2, enclosure: 0.3}\nenclosure:\n  post: {box: [[4, 4, -9.65], [8, 8, -0.4]]}\nseats:\n  rest: {on: spine, side: bottom, area: {rect: [3, 3, 9, 9]}, against: post}\nsequence:\n  - {bend: [lower, upper]}\n  - {move: board, path: [{move: [0, 0, -20]}, {}]}")},
	{"seat-aside", "overshoot", "from aside and half a millimetre too low half way, at 10, the plate's edge runs 0.05 into the post on which it has its seat", marks("contact-in-motion error 0.05"), edits("clearance: {board: 0.2}", "clearance: {board: 0.2, enclosure: 0.3}\nenclosure:\n  post: {box: [[6, 4, -5], [10.05, 8, -0.4]]}\nseats:\n  rest: {on: spine, side: bottom, area: {rect: [5, 3, 11, 9]}, against: post}\nsequence:\n  - {bend: [lower, upper]}\n  - {move: board, path: [{move: [20, 0, -1]}, {}]}")},
	{"seat-foam", "overshoot", "slid in along a post of foam on which it has its seat and pressed down into it, as far as that gives way", []string{"verdict: pass"}, edits("clearance: {board: 0.2}", "clearance: {board: 0.2, enclosure: 0.3}\nenclosure:\n  post: {box: [[4, 4, -5], [8, 8, -0.1]]}\nseats:\n  rest: {on: spine, side: bottom, area: {rect: [3, 3, 9, 9]}, against: post, squeeze: 0.3}\nsequence:\n  - {bend: [lower, upper]}\n  - {move: board, path: [{move: [20, 5, 0.3]}, {move: [0, 0, 0.3]}, {}]}")},

	// loop-open-in-motion: mm
	{"loop-lower", "twin-arms", "one arm first, at a neutral radius of 2.1: 1.8423000905 at 1.6, in proportion", marks("loop-open-in-motion warning 2.418019"), edits("clearance: {board: 0.2}", "clearance: {board: 0.2}\nsequence:\n  - {bend: [lower]}\n  - {bend: [upper]}")},
	{"loop-upper", "twin-arms", "the other arm first, at a neutral radius of 2.6", marks("loop-open-in-motion warning 2.993738"), edits("[30, 11]], angle: 90, radius: 2}", "[30, 11]], angle: 90, radius: 2.5}", "[30, 41]], angle: 90, radius: 2}", "[30, 41]], angle: 90, radius: 2.5}", "clearance: {board: 0.2}", "clearance: {board: 0.2}\nsequence:\n  - {bend: [upper]}\n  - {bend: [lower]}")},

	// forming-room: mm
	{"room-above", "overshoot", "a part 0.110 beyond the tangent line, 1 high, in the way of a rod of 2.4", marks("forming-room advice -0.971550"), edits("radius: 1.2}       #", "radius: 1.2, formed: bench}       #", "clearance: {board: 0.2}", "clearance: {board: 0.2}\ncomponents:\n  C1: {side: top, at: [31.6, 5], size: [1, 3, 1]}")},
	{"room-below", "overshoot", "the same below, formed by the fabricator", marks("forming-room advice -0.971550"), edits("toward: bottom, radius: 1.2}", "toward: bottom, radius: 1.2, formed: fabricator}", "clearance: {board: 0.2}", "clearance: {board: 0.2}\ncomponents:\n  C1: {side: bottom, at: [46.6, 35], size: [1, 3, 1]}")},

	// target-missed: mm
	{"target-beside", "paddles", "the far paddle's edge lands at (0, 10, 4.15), 0.3 below where it is wanted", marks("target-missed warning 0.3"), edits("clearance: {board: 0.3}", "clearance: {board: 0.3}\ntargets:\n  slot: {on: b, point: [50, 10, 0], at: [0, 10, 4.45], facing: [-1, 0, 0], axis: [1, 0, 0], within: {across: 0.2, tilt: 0.1}}")},
	{"target-short", "overshoot", "a corner of the base wanted 0.5 mm higher", marks("target-missed warning -0.5"), edits("clearance: {board: 0.2}", "clearance: {board: 0.2}\ntargets:\n  post: {on: spine, point: [5, 5, 0.1], at: [5, 5, 0.6], facing: [0, 0, 1], within: {along: [-0.1, 0.1]}}")},

	// loose-plies: mm
	{"plies-equal", "paddles", "two equal plies of 0.07, 0.01 apart: (2/pi) sqrt(pi 0.08 x 30.1257)", marks("loose-plies advice 1.751735", "25 10"), edits("film: {thickness: 0.15, copper-layers: 2}", "sheet: {thickness: 0.07, copper-layers: 1}\n  film: {plies: [sheet, sheet], gap: 0.01}")},
	{"plies-back", "overshoot", "progressive plies of 0.06, bent back in a posture: pi/2 x 0.06", marks("loose-plies warning 0.0942478"), edits("film: {thickness: 0.12, copper-layers: 2}", "sheet: {thickness: 0.06, copper-layers: 1}\n  film: {plies: [sheet, sheet], lengths: progressive}", "clearance: {board: 0.2}", "clearance: {board: 0.2}\npostures: {back: {lower: -90}}")},

	// springback: degrees lost, fibre by fibre, computed apart
	{"spring-mil", "mil-card", "formed on the bench: 0.19286 of 180 degrees stay while films stay elastic", marks("springback advice 145.2851", "31.75 10.16"), edits("radius: 100}", "radius: 100, formed: bench}")},
	{"spring-wide", "free-u", "formed by the fabricator, 10 degrees tolerated: 0.118336 of 180 degrees stay", marks("springback advice 158.6994"), edits("formed: free", "formed: fabricator, tolerance: {angle: 10}")},

	// core-continuous: copper layers that run on
	{"core-other-film", "four-layer-flex", "the rigid sections written out, with films of 25 um for 50: only the middle runs on", marks("core-continuous advice 2", "45 12.5"), edits("{stackup: flex4, without: [coverlay, coverlay-adhesive]}", "{material: copper-ra, thickness: 18 um}, {material: polyimide, thickness: 25 um}, {material: copper-ra, thickness: 18 um}, {material: adhesive, thickness: 25 um}, {material: copper-ra, thickness: 18 um}, {material: polyimide, thickness: 25 um}, {material: copper-ra, thickness: 18 um}")},
	{"core-half", "four-layer-flex", "the rigid sections written out, with the upper half of the flex only", marks("core-continuous advice 2", "45 12.5"), edits("{stackup: flex4, without: [coverlay, coverlay-adhesive]}", "{material: copper-ra, thickness: 18 um}, {material: polyimide, thickness: 50 um}, {material: copper-ra, thickness: 18 um}, {material: fr4, thickness: 0.111}")},

	// dynamic-foil: layers of electrodeposited foil
	{"foil-cable", "carriage", "electrodeposited foil in the moving loop", marks("dynamic-foil query 1", "160 7.5"), edits("{material: copper-ra, thickness: 12 um", "{material: copper-ed, thickness: 12 um")},
	{"foil-section", "at-the-limits", "the moving section written out, 70 um with electrodeposited foil", marks("dynamic-foil query 1", "175 5"), edits("moving: {thickness: 0.07, copper-layers: 1}", "moving: {layers: [{material: polyimide, thickness: 30 um}, {material: copper-ed, thickness: 10 um}, {material: polyimide, thickness: 30 um}]}")},

	// dynamic-layers: copper layers
	{"layers-three", "at-the-limits", "the moving section with three copper layers", marks("dynamic-layers warning 3", "175 5"), edits("moving: {thickness: 0.07, copper-layers: 1}", "moving: {thickness: 0.07, copper-layers: 3}")},
	{"layers-two", "at-the-limits", "the moving section with two copper layers", marks("dynamic-layers advice 2", "175 5"), edits("moving: {thickness: 0.07, copper-layers: 1}", "moving: {thickness: 0.07, copper-layers: 2}")},
	{"layers-strict", "carriage", "two thin copper layers in the moving loop, where the profile strict allows one", marks("dynamic-layers warning 2", "160 7.5"), edits("      - {material: copper-ra, thickness: 12 um, coverage: 0.5}", "      - {material: copper-ra, thickness: 3 um}\n      - {material: polyimide, thickness: 6 um}\n      - {material: copper-ra, thickness: 3 um}", "clearance: {board: 1}", "clearance: {board: 1}\nlimits: {profile: strict}")},

	// dynamic-plating: mm of plating
	{"plating-cable", "carriage", "a quarter of the moving copper is plated on", marks("dynamic-plating warning 0.003", "160 7.5"), edits("      - {material: copper-ra, thickness: 12 um, coverage: 0.5}", "      - {material: copper-ed, thickness: 3 um, coverage: 0.5, role: plating}\n      - {material: copper-ra, thickness: 9 um, coverage: 0.5}")},
	{"plating-section", "at-the-limits", "the moving section written out, 70 um with foil plated on both sides", marks("dynamic-plating warning 0.004", "175 5"), edits("moving: {thickness: 0.07, copper-layers: 1}", "moving: {layers: [{material: polyimide, thickness: 30 um}, {material: copper-ed, thickness: 2 um, role: plating}, {material: copper-ra, thickness: 6 um}, {material: copper-ed, thickness: 2 um, role: plating}, {material: polyimide, thickness: 30 um}]}")},

	// stack-balance: a share of half the thickness, or mm
	{"balance-bare", "backplane", "a tenth of the copper in the middle, none below: t is 1.52218", marks("stack-balance advice 0.88875"), edits("1 oz}, {material: fr4, thickness: 0.71}, {material: copper-ed, thickness: 1 oz}, {material: fr4, thickness: 0.71}, {material: copper-ed, thickness: 1 oz}]", "1 oz}, {material: fr4, thickness: 0.71}, {material: copper-ed, thickness: 1 oz, coverage: 0.1}, {material: fr4, thickness: 0.71}, {material: copper-ed, thickness: 1 oz, coverage: 0}]")},
	{"balance-core", "backplane", "the lower core 1.4 mm thick, the upper 0.71", marks("stack-balance advice 0.69"), edits("{material: fr4, thickness: 0.71}, {material: copper-ed, thickness: 1 oz}]", "{material: fr4, thickness: 1.4}, {material: copper-ed, thickness: 1 oz}]")},

	// bend-on-rigid: how deep the plate reaches into the bend area
	{"rigid-hinge-moved", "z-stack", "hinge from x 35 to 32: w/2 is 3.2359", marks("bend-on-rigid error 1.235840"), edits("[[35, -1], [35, 21]]", "[[32, -1], [32, 21]]")},
	{"rigid-longer", "window-frame", "left section 23 mm longer: w/2 is 2.18864", marks("bend-on-rigid error 2.188643"), edits("left: {stackup: plate, area: {rect: [0, 0, 12, 50]}}", "left: {stackup: plate, area: {rect: [0, 0, 35, 50]}}")},
	{"rigid-plate", "stiff-flush", "plate c 0.3 mm too long", marks("bend-on-rigid error 0.300014"), edits("[44.948, 0, 60, 12]", "[44.648, 0, 60, 12]")},

	// bend-beyond-neck: how far the bend area reaches past the neck's end
	{"neck-radius", "paddles", "radius from 2 to 4: w is 12.80199 on a neck of 10", marks("bend-beyond-neck warning 1.400995"), edits("radius: 2", "radius: 4")},
	{"neck-moved", "paddles", "hinge from x 25 to 28: w/2 is 3.259403", marks("bend-beyond-neck warning 1.259403"), edits("[[25, 7], [25, 13]]", "[[28, 7], [28, 13]]")},
	{"neck-short", "paddles", "the neck's far end from x 30 to 27", marks("bend-beyond-neck warning 1.259403"), edits("[30, 8, 0.8], [30, 0]", "[27, 8, 0.8], [27, 0]", "[30, 20], [30, 12, 0.8]", "[27, 20], [27, 12, 0.8]")},

	// bend-free-end: the angle that is reached
	{"free-short-tail", "roll-short", "the tail ends at x 37, w is 15.78650", marks("bend-free-end warning 256.548"), edits("[0, 0, 40, 8]", "[0, 0, 37, 8]")},
	{"free-moved", "back-to-back", "last hinge from x 50 to 59.7, w is 1.0733775", marks("bend-free-end warning 23.38475"), edits("[[50, 0], [50, 9]]", "[[59.7, 0], [59.7, 9]]")},

	// bend-overlap: the area that two bends would both take up
	{"overlap-shifted", "back-to-back", "the first tangent line 0.2 mm too far", marks("bend-overlap error 1.8"), edits("up: {tangent: [[30, 0], [30, 9]]", "up: {tangent: [[30.2, 0], [30.2, 9]]")},
	{"overlap-roll", "spiral-tail", "r3 begins at x 43, r4 ends at 43.383185", marks("bend-overlap error 2.299110"), edits("[[55, 4], [55, 12]], into: [56, 8]", "[[43, 4], [43, 12]], into: [44, 8]")},

	// component-in-bend: how deep the part reaches into the bend area
	{"part-corner", "turned-leds", "D1 0.3 nearer to the bend: its corner at x 40.264214", marks("component-in-bend warning 0.264214"), edits("D1: {at: [38.55, 4]", "D1: {at: [38.85, 4]")},
	{"part-inside", "crowded", "C2 0.3 nearer to the bend, on its outer side", marks("component-in-bend warning 0.2"), edits("C2: {side: bottom, at: [24.4, 8]", "C2: {side: bottom, at: [24.7, 8]")},
	{"part-on-bend", "flex-only-tail", "the driver chip sits on the bend", marks("component-in-bend warning 1.9"), edits("U1: {side: bottom, at: [45, 8], size: [8, 3, 0.6]}", "U1: {side: top, at: [20, 9], size: [1.9, 3, 0.6]}")},

	// cutout-end-in-bend: from the cutout's end to the nearer tangent line
	{"slot-short", "split-neck", "the first slot ends at x 37, the bend area at 39.123340", marks("cutout-end-in-bend warning 2.123340", "37 8"), edits("[26, 7, 44, 9]", "[26, 7, 37, 9]")},
	{"hole-moved", "drilled", "the hole at the tangent line 0.5 into the bend", marks("cutout-end-in-bend warning 0.5", "30.5 6"), edits("[28.5, 6]", "[29, 6]")},
	{"hole-inside", "drilled", "the hole of 3.2 moved into the bend of 3.298672", marks("cutout-end-in-bend warning 3.249336", "31.649336 6"), edits("{circle: [10, 6], diameter: 3.2}", "{circle: [31.649336, 6], diameter: 3.2}")},
	{"notch-moved", "drilled", "the notch at the lower edge moved into the bend, from x 31 to 32", marks("cutout-end-in-bend warning 1.298672", "32 2"), edits("[18, 0], [18, 2], [20, 2], [20, 0]", "[31, 0], [31, 2], [32, 2], [32, 0]")},

	// loop-open: mm, or degrees where the gap is within its limit
	{"loop-radius", "twin-arms", "radius of the upper arm from 2 to 3: sqrt2 (1 - pi/4)", marks("loop-open warning 0.3034928"), edits("[30, 41]], angle: 90, radius: 2", "[30, 41]], angle: 90, radius: 3")},
	{"loop-angle", "twin-arms", "angle of the upper arm from 90 to 91.5", marks("loop-open warning 1.5"), edits("[30, 41]], angle: 90", "[30, 41]], angle: 91.5")},
	{"loop-wide", "twin-arms", "radius of the upper arm from 2 to 6", marks("loop-open error 1.2139713"), edits("[30, 41]], angle: 90, radius: 2", "[30, 41]], angle: 90, radius: 6")},

	// stiffener-face: mm2 of overlap, mm of step
	{"plates-overlap", "rounded-plates", "plate q begins 0.4 mm under plate p", marks("stiffener-face warning 5.08"), edits("[25.3996, 0, 38.1, 12.7]", "[25, 0, 38.1, 12.7]")},
	{"plate-on-step", "rounded-plates", "plate r runs on over the rigid edge, 0.3 high", marks("stiffener-face warning 0.3"), edits("[0, 0, 10.16, 12.7]", "[0, 0, 25, 12.7]")},

	// units-doubtful
	{"units-long", "believable", "2001 mm long", append(marks("units-doubtful warning 2001"), "upright: the length counts along x"), edits("[0, 0, 2000, 60]", "[0, 0, 2001, 60]")},
	{"units-um", "hearing-aid", "flex of 3.5 um", marks("units-doubtful warning 0.0035"), edits("thickness: 0.035", "thickness: 0.0035")},
	{"units-stack", "believable", "a stack of 10.5 mm", marks("units-doubtful warning 10.5"), edits("thickness: 10,", "thickness: 10.5,")},

	// contact: depth
	{"contact-cell", "wrist-tracker", "the cell 0.4 mm thicker: into the wing at z 4.243", marks("contact error 0.057"), edits("[22, 17, 3.9]", "[22, 17, 4.3]")},
	{"contact-part", "z-stack", "U1 3.3 high under 3.12", marks("contact error 0.18"), edits("U1: {at: [15, 10], size: [10, 10, 1.2]}", "U1: {at: [15, 10], size: [10, 10, 3.3]}")},
	{"contact-ends", "hex-tube", "the last panel 0.5 mm longer", marks("contact error 0.2"), edits("[0, 0, 74.7, 30]", "[0, 0, 75.2, 30]", "[69.6, 0, 74.7, 30]", "[69.6, 0, 75.2, 30]")},
	{"contact-vault", "vault", "the inductor 2 mm higher: through the cavity's floor", marks("contact error 0.5"), edits("height: 5.6", "height: 7.6")},
	{"contact-foam", "wildcards", "the foam 0.2 mm too high for its allowed overlap of 0.3", marks("contact error 0.4"), edits("[24, 16, 7.8]", "[24, 16, 8]")},

	// clearance: gap
	{"clearance-wall", "exact-fit", "the west wall 0.1 nearer", marks("clearance error 0.4"), edits("[[-2, -2, 0], [-0.5, 22, 12]]", "[[-2, -2, 0], [-0.4, 22, 12]]")},
	{"clearance-bend", "exact-fit", "the east wall 0.1 nearer to the bend", marks("clearance error 0.4"), edits("[[33.2, -2, 0]", "[[33.1, -2, 0]")},
	{"clearance-opening", "tray-mount", "the socket 0.1 aside in its opening", marks("clearance error 0.05"), edits("J1: {at: [0.5, 10]", "J1: {at: [0.5, 10.1]")},
	{"clearance-part", "under-the-wing", "U1 0.2 mm higher", marks("clearance error 0.3"), edits("[8, 8, 3.7]", "[8, 8, 3.9]")},

	// advice
	{"corner-sharp", "flex-only-tail", "one corner of the neck is not rounded", marks("inside-corner advice 0", "14 6"), edits("[14, 6, 1]", "[14, 6]")},
	{"corner-small", "four-layer-flex", "one corner of the neck rounded with 0.5", marks("inside-corner advice 0.5"), edits("[30, 3, 2]", "[30, 3, 0.5]")},
	{"stackup-section", "at-the-limits", "the border of two flexible sections 0.4 behind a hinge line: w/2 is 0.766941", marks("bend-stackup advice 0.366941"), edits("[40, 0, 80, 10]", "[40, 0, 60.4, 10]", "[80, 0, 130, 10]", "[60.4, 0, 130, 10]")},
	{"stackup-flex", "at-the-limits", "a section that begins 0.5 before a hinge line", marks("bend-stackup advice 0.266941"), edits("[40, 0, 80, 10]", "[59.5, 0, 80, 10]")},

	// borderline: these pass
	{"at-plate", "stiff-flush", "plate c 0.0009 in the bend, 0.001 is allowed", nil, edits("[44.948, 0, 60, 12]", "[44.9472, 0, 60, 12]")},
	{"at-rod", "former-rod", "exactly the required gap between round and round", nil, edits("enclosure: 0.29", "enclosure: 0.3")},
	{"at-part", "turned-leds", "D4 0.0009 in the bend", nil, edits("D4: {at: [39, 19]", "D4: {at: [39.0009, 19]")},
	{"at-hole", "drilled", "the hole 0.0009 in the bend", nil, edits("[28.5, 6]", "[28.5009, 6]")},
	{"at-loop-gap", "twin-arms", "the loop 0.2 mm open", nil, edits("[30, 41]], angle: 90, radius: 2", "[30, 41]], angle: 90, radius: 2.65899415")},
	{"at-loop-angle", "twin-arms", "the loop 1 degree open", nil, edits("[30, 41]], angle: 90", "[30, 41]], angle: 91")},
	{"at-touch", "touching", "the roof 0.0009 in a part: that counts as touching", nil, edits("roof: {box: [[0, 0, 2]", "roof: {box: [[0, 0, 1.9991]")},
	{"at-overlap", "wildcards", "the foam pressed by exactly the allowed 0.3", nil, edits("[24, 16, 7.8]", "[24, 16, 7.9]")},
	{"at-neck", "paddles", "the bend area as long as the neck: w is 10", nil, edits("radius: 2", "radius: 3.10809886")},
	{"at-strain", "carriage", "copper strained by exactly what is asked for: 0.006 / 7.5", nil, edits("radius: 6.5", "radius: 7.469", "clearance: {board: 1}", "clearance: {board: 1}\nlimits: {bend-strain: 0.08}")},
	{"at-life", "carriage", "a mean life of exactly the 100000 cycles asked for: strain range 0.65^0.75/1000 + 0.9*140/117000", nil, edits("radius: 6.5", "radius: 3.3007899503404485", "cycles: 5e6, between: [175, 180]", "cycles: 1e5", "clearance: {board: 1}", "clearance: {board: 1}\nlimits: {bend-ratio: 50}")},
	{"at-core", "four-layer-flex", "the rigid sections written out with all of the flex, its copper electrodeposited there", nil, edits("{stackup: flex4, without: [coverlay, coverlay-adhesive]}", "{material: copper-ed, thickness: 18 um}, {material: polyimide, thickness: 50 um}, {material: copper-ed, thickness: 18 um}, {material: adhesive, thickness: 25 um}, {material: copper-ed, thickness: 18 um}, {material: polyimide, thickness: 50 um}, {material: copper-ed, thickness: 18 um}")},
	{"at-thin", "hearing-aid", "flex of exactly 0.01 mm", nil, edits("thickness: 0.035", "thickness: 0.01")},
}

// marks returns the marks of one finding: rule, severity and value, and where it is if that is told.
func marks(expect string, at ...string) []string {
	out := []string{"expect: " + expect}
	for _, a := range at {
		out = append(out, "at: "+a)
	}
	return out
}

// edits pairs what stands in the good board with what comes in its place.
func edits(oldNew ...string) [][2]string {
	var out [][2]string
	for i := 0; i+1 < len(oldNew); i += 2 {
		out = append(out, [2]string{oldNew[i], oldNew[i+1]})
	}
	return out
}
