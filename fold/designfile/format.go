package designfile

// The types of this file are format 1. Tags say what a key means:
//
//	key    its name in the file             need  "yes": must be given (with `with`: whenever that key is)
//	one    exactly one key of this group    with  counts only beside that other key
//	unit   quantity of its numbers          range interval in the base unit, ( and ) leave the end out
//	words  the words allowed                is    kind of text: name, body, path
//	ref    the key whose names it may be, rules, or what it may name: bodies, sitters, pieces, subjects
//	keys   the key whose names the keys of a map must be
//	not    names that are taken already
//	count  number of items of a list        like  how a right value looks, for messages
//	or     a word that may stand for the number
//	last   what the last item of a list may be: that word as well, or a range of its own
//	as     list, map or word: the way of writing that fills this field of an either
//	doc    what it is, for messages and the schema
//
// A blank field of type later is a key of the contract that nothing computes yet.

type file struct {
	object
	Foldfit    number          `key:"foldfit" need:"yes" unit:"whole" range:"[1,1]" doc:"version of the design file format: 1"`
	Title      *title          `key:"title" doc:"what drawings say about the board"`
	Units      text            `key:"units" words:"mm mil in" doc:"unit of plain numbers, mm if left out"`
	_          later           `key:"board" doc:"board data that import has written"`
	Outline    *loop           `key:"outline" need:"yes" doc:"board edge, one closed loop: the last point joins the first"`
	Cutouts    []loop          `key:"cutouts" doc:"holes in the board that matter for its shape"`
	Datum      [2]number       `key:"datum" unit:"length" doc:"point that drawings measure from"`
	Stackups   dict[stack]     `key:"stackups" need:"yes" count:"1.." doc:"layers of each kind of area, by name"`
	Materials  dict[substance] `key:"materials" doc:"materials beside the built-in ones, by name"`
	Flex       text            `key:"flex" is:"name" ref:"stackups" doc:"stack-up of every area that no section covers"`
	Sections   dict[section]   `key:"sections" doc:"areas with their own stack-up, by name"`
	Base       *base           `key:"base" doc:"the flat that stays put: a section, or {at: [x, y]}"`
	Place      *place          `key:"place" doc:"takes the board into the housing's frame"`
	Hinges     dict[hinge]     `key:"hinges" doc:"lines about which the flex bends, by name"`
	Postures   dict[posture]   `key:"postures" not:"folded flat" doc:"end shapes beside the folded one, by name"`
	Stiffeners dict[stiffener] `key:"stiffeners" doc:"bonded plates, by name"`
	_          later           `key:"tails" doc:"flex ends that plug into connectors"`
	Components dict[component] `key:"components" doc:"bodies of electronic parts, by name"`
	Enclosure  dict[piece]     `key:"enclosure" doc:"what surrounds the board, by name"`
	Seats      dict[seat]      `key:"seats" doc:"places where touching is meant, by name"`
	Clearance  *clearance      `key:"clearance" doc:"required distances; without them only contact is judged"`
	Sequence   []stage         `key:"sequence" count:"1.." like:"a list of steps such as [{bend: [neck]}]" doc:"the order in which hinges are bent, from flat, and in which the board and its surroundings come together"`
	Targets    dict[target]    `key:"targets" doc:"places where something on the folded board must land, by name"`
	Limits     *limits         `key:"limits" doc:"what the design rules ask for"`
	Conceded   []concession    `key:"concessions" like:"a list of {rule: bend-ratio, on: [neck], down-to: 8, because: ..., by: ...}" doc:"deviations from the rules that were accepted"`
	_          later           `key:"holes" doc:"drilled holes"`
	_          later           `key:"keepouts" doc:"areas to be kept free"`
	_          later           `key:"grain" doc:"rolling direction of the copper"`
	Loop       *loopLimit      `key:"loop" doc:"how far arms that form a ring may miss each other"`
}

type title struct {
	object
	Name     text `key:"name" doc:"name of the board; the file's stem if left out"`
	Number   text `key:"number" doc:"drawing or part number"`
	Revision text `key:"revision"`
	Company  text `key:"company"`
	Drawn    text `key:"drawn" doc:"who drew it"`
	Date     text `key:"date" doc:"kept as written"`
}

// loop is any closed shape: points and arcs, a rectangle or a circle.
type loop struct {
	either
	Points []vertex `as:"list" count:"2.." like:"a list of points"`
	Shape  *shape   `as:"map"`
}

type shape struct {
	object
	Rect     [4]number `key:"rect" one:"shape" unit:"length" like:"two opposite corners [x0, y0, x1, y1]" doc:"rectangle: x0 y0 x1 y1"`
	Corner   number    `key:"corner" with:"rect" unit:"length" range:"[0,)" doc:"radius of the rectangle's corners"`
	Circle   [2]number `key:"circle" one:"shape" unit:"length" doc:"centre of a circle"`
	Diameter number    `key:"diameter" with:"circle" need:"yes" unit:"length" range:"(0,)" doc:"diameter of the circle"`
}

type vertex struct {
	either
	Point []number `as:"list" count:"2..3" unit:"length" last:"[0,)" like:"a point [x, y] or [x, y, corner radius]"`
	Arc   *arc     `as:"map"`
}

type arc struct {
	object
	Arc []number  `key:"arc" need:"yes" count:"2..3" unit:"length" last:"[0,)" like:"a point [x, y] or [x, y, corner radius]" doc:"end of an arc that begins at the point before"`
	Via [2]number `key:"via" need:"yes" unit:"length" doc:"point that the arc runs through"`
}

type stack struct {
	object
	Thickness    number  `key:"thickness" one:"make" unit:"length" range:"(0,)" doc:"thickness of a plain sheet"`
	Layers       []layer `key:"layers" one:"make" count:"1.." like:"a list of layers" doc:"layers from top to bottom"`
	Rigid        flag    `key:"rigid" doc:"true for a stack-up that does not bend"`
	CopperLayers number  `key:"copper-layers" unit:"whole" range:"[0,)" doc:"number of copper layers; counted where layers are given"`
	Lip          number  `key:"lip" unit:"length" range:"[0,)" doc:"how far the layers left out at the edge of a rigid stack-up, such as the coverlay, run on under it; kept for whoever builds the board, nothing is computed with it"`
	Of           text    `key:"of" one:"make" is:"name" ref:"stackups" doc:"an arm with fewer layers: the flexible stack-up that they belong to"`
	Keep         []text  `key:"keep" with:"of" need:"yes" is:"layer" count:"1.." like:"a list of layers, by number from the top or by role, such as [3, 4, 5] or [core]" doc:"the layers that run on in the arm, by number from the top (1 is the top one) or by role"`
	Plies        []text  `key:"plies" one:"make" is:"name" ref:"stackups" count:"2..50" like:"a list of stack-ups, [sheet, sheet]" doc:"loose sheets from top to bottom, bonded at their ends only"`
	Gap          number  `key:"gap" with:"plies" unit:"length" range:"[0,)" doc:"air between the loose sheets"`
	Lengths      text    `key:"lengths" with:"plies" words:"equal progressive" doc:"equal, also if left out; progressive: each sheet as long as its own way round the bend (bookbinder)"`
	_            later   `key:"grain" doc:"rolling direction of the copper"`
}

type layer struct {
	object
	Material  text   `key:"material" one:"kind" is:"name" ref:"materials" doc:"built-in, or one of materials"`
	Stackup   text   `key:"stackup" one:"kind" is:"name" ref:"stackups" doc:"another stack-up whose layers run on through this one"`
	Thickness number `key:"thickness" with:"material" need:"yes" unit:"foil" range:"(0,)" doc:"thickness of the layer; copper also in oz"`
	Role      text   `key:"role" with:"material" doc:"what the layer is for, such as coverlay"`
	Coverage  number `key:"coverage" with:"material" unit:"share" range:"[0,1]" doc:"share of the area that is copper, 0 to 1"`
	Without   []text `key:"without" with:"stackup" count:"1.." like:"a list of roles such as [coverlay]" doc:"roles of the layers that stop at the edge"`
	Of        text   `key:"of" one:"kind" is:"name" ref:"stackups" doc:"a flexible stack-up of which only some layers run on through this one"`
	Keep      []text `key:"keep" with:"of" need:"yes" is:"layer" count:"1.." like:"a list of layers, by number from the top or by role, such as [3, 4, 5] or [core]" doc:"those layers, by number from the top (1 is the top one) or by role"`
}

type substance struct {
	object
	Modulus number `key:"modulus" need:"yes" unit:"modulus" range:"(0,)" doc:"Young's modulus in plane, GPa"`
	Density number `key:"density" unit:"density" range:"(0,)" doc:"g/cm3"`
	Copper  flag   `key:"copper" doc:"true for a copper foil: it is then counted, and its strain judged; its life needs a built-in kind of foil"`
}

type section struct {
	object
	Stackup text  `key:"stackup" need:"yes" is:"name" ref:"stackups" doc:"one of stackups"`
	Area    *loop `key:"area" need:"yes" doc:"shape in the flat; may overshoot the outline"`
	_       later `key:"grain" doc:"rolling direction of the copper"`
}

type base struct {
	either
	Section text      `as:"word" is:"name" ref:"sections"`
	Spot    *baseSpot `as:"map"`
}

type baseSpot struct {
	object
	At [2]number `key:"at" need:"yes" unit:"length" doc:"a point on the flat that stays put"`
}

type place struct {
	object
	Datum text      `key:"datum" words:"top bottom" doc:"face of the base that goes to z = 0"`
	Move  [3]number `key:"move" unit:"length"`
	Turn  [3]number `key:"turn" unit:"angle" doc:"about x, then y, then z"`
}

type hinge struct {
	object
	Line      [2][2]number `key:"line" one:"line" unit:"length" like:"two points [[x, y], [x, y]]" doc:"two points on the middle of the bend area"`
	Tangent   [2][2]number `key:"tangent" one:"line" unit:"length" like:"two points [[x, y], [x, y]]" doc:"two points on the line where the bend area begins"`
	Into      [2]number    `key:"into" with:"tangent" need:"yes" unit:"length" doc:"a point on the side of the tangent line where the bend area lies"`
	Angle     number       `key:"angle" need:"yes" unit:"angle" range:"[-360,360]" doc:"degrees swept, 0 = flat; positive folds toward the top"`
	Toward    text         `key:"toward" words:"top bottom" doc:"side that the angle folds toward, top if left out"`
	Radius    number       `key:"radius" need:"yes" unit:"length" range:"[0,)" doc:"inside radius, of the concave face of the flex"`
	Use       text         `key:"use" words:"install dynamic"`
	Cycles    number       `key:"cycles" unit:"count" range:"(0,)" doc:"bends in its life"`
	Between   [2]number    `key:"between" unit:"angle" range:"[-360,360]" like:"two angles [from, to]" doc:"angles that a dynamic hinge moves between"`
	Formed    text         `key:"formed" words:"fabricator bench free" doc:"where it gets its shape"`
	Tolerance *tolerance   `key:"tolerance"`
}

type tolerance struct {
	object
	Angle number `key:"angle" unit:"angle" range:"[0,360]"`
	Line  number `key:"line" unit:"length" range:"[0,)"`
}

// posture is an angle for some of the hinges.
type posture struct {
	either
	Angles dict[number] `as:"map" keys:"hinges" unit:"angle" range:"[-360,360]" like:"hinges with their angles, {neck: 90}"`
}

type stiffener struct {
	object
	Side      text   `key:"side" words:"top bottom" doc:"top if left out"`
	Material  text   `key:"material" is:"name" ref:"materials" doc:"built-in, or one of materials"`
	Thickness number `key:"thickness" need:"yes" unit:"length" range:"(0,)"`
	Adhesive  number `key:"adhesive" unit:"length" range:"[0,)" doc:"thickness of the adhesive under it"`
	Area      *loop  `key:"area" need:"yes"`
}

type component struct {
	object
	Side     text        `key:"side" words:"top bottom" doc:"top if left out"`
	At       [2]number   `key:"at" need:"yes" unit:"length" doc:"its place in the flat"`
	On       text        `key:"on" is:"name" ref:"sections" doc:"section that carries a part whose place lies off the board"`
	Turn     number      `key:"turn" unit:"angle" doc:"counter-clockwise seen from the top, on both sides"`
	Size     []number    `key:"size" one:"body" unit:"length" range:"(0,)" count:"2..3" last:"unknown" like:"[x, y, height], or [x, y] without a known height" doc:"body: x, y and height"`
	Boxes    [][6]number `key:"boxes" one:"body" unit:"length" count:"1.." like:"a list of boxes [[x0, y0, z0, x1, y1, z1]]" doc:"body: x0 y0 z0 x1 y1 z1, z away from the board"`
	Diameter number      `key:"diameter" one:"body" unit:"length" range:"(0,)" doc:"body: an upright cylinder"`
	Height   number      `key:"height" unit:"length" range:"(0,)" or:"unknown" doc:"height of the body, or unknown"`
	Standoff number      `key:"standoff" unit:"length" range:"[0,)" doc:"gap under the body"`
	Below    number      `key:"below" unit:"length" range:"[0,)" doc:"how far it reaches into the board"`
	Mass     number      `key:"mass" unit:"mass" range:"[0,)" doc:"g"`
}

type piece struct {
	object
	Box     [2][3]number `key:"box" one:"body" unit:"length" like:"two opposite corners [[x, y, z], [x, y, z]]"`
	Mesh    text         `key:"mesh" one:"body" is:"path" doc:"mesh file inside the design's folder"`
	Units   text         `key:"units" with:"mesh" words:"mm cm m in mil" doc:"unit of the mesh file"`
	Chord   number       `key:"chord" with:"mesh" unit:"length" range:"[0,)" doc:"how far the mesh may lie off the true surface"`
	Move    [3]number    `key:"move" unit:"length"`
	Turn    [3]number    `key:"turn" unit:"angle" doc:"about x, then y, then z of its own origin, before move"`
	Role    text         `key:"role" doc:"housing, cell and so on"`
	On      text         `key:"on" is:"name" ref:"sections" doc:"section that it rides on; it is then written in flat coordinates"`
	Follows *follow      `key:"follows" doc:"hinge that it turns with; it is then written in flat coordinates"`
	Grows   number       `key:"grows" unit:"length" range:"[0,)" doc:"how far it swells on every side, taken off every gap"`
}

type follow struct {
	object
	Hinge text   `key:"hinge" need:"yes" is:"name" ref:"hinges" doc:"one of hinges"`
	Share number `key:"share" unit:"share" range:"[0,1]" doc:"1, also if left out: as what lies beyond the hinge; 0.5: as the middle of its bend"`
}

type seat struct {
	object
	On      text   `key:"on" need:"yes" is:"sitter" ref:"sitters" doc:"section, stiffener or component that sits here"`
	Side    text   `key:"side" words:"top bottom" doc:"side of the board that touches; a component or stiffener has its own"`
	Area    *loop  `key:"area" need:"yes" doc:"where contact is wanted, in the flat"`
	Against text   `key:"against" need:"yes" is:"piece" ref:"pieces" doc:"enclosure piece that it sits on"`
	Bond    number `key:"bond" unit:"length" range:"[0,)" doc:"thickness of the tape or glue between"`
	Squeeze number `key:"squeeze" unit:"length" range:"[0,)" doc:"how far the two may overlap: foam, pads, engaged plugs"`
}

// stage is one step of the sequence.
type stage struct {
	object
	Name   text         `key:"name" is:"words" doc:"what the step is called"`
	Bend   *hingeList   `key:"bend" one:"step" doc:"hinges that turn together, at constant rates"`
	To     *stageAngles `key:"to" with:"bend" doc:"angles that they end at; a hinge's own if left out"`
	Move   text         `key:"move" one:"step" is:"piece" doc:"what goes along path: board, or a piece of enclosure"`
	Path   []stop       `key:"path" with:"move" need:"yes" count:"2.." like:"a list of placements from the first one to the one at rest, such as [{move: [0, 0, 30]}, {move: [0, 0, 0]}]" doc:"placements that are passed"`
	Into   text         `key:"into" with:"move" is:"piece" ref:"pieces" doc:"piece that the board goes into; it is there from this step on"`
	Add    *pieceList   `key:"add" one:"step" doc:"pieces of enclosure that are there from this step on"`
	Remove *pieceList   `key:"remove" one:"step" doc:"pieces of enclosure that are gone from this step on"`
}

type hingeList struct {
	either
	One text   `as:"word" is:"name" ref:"hinges"`
	All []text `as:"list" is:"name" ref:"hinges" count:"1.." like:"a list of hinges such as [neck]"`
}

type pieceList struct {
	either
	One text   `as:"word" is:"piece" ref:"pieces"`
	All []text `as:"list" is:"piece" ref:"pieces" count:"1.." like:"a list of pieces such as [jig]"`
}

type stageAngles struct {
	either
	One  number       `as:"word" unit:"angle" range:"[-360,360]"`
	Each dict[number] `as:"map" keys:"hinges" unit:"angle" range:"[-360,360]" like:"hinges with their angles, {neck: 95}"`
}

// stop is a placement on a path, counted from the one at rest.
type stop struct {
	object
	Move [3]number `key:"move" unit:"length" doc:"shift in the housing's frame"`
	Turn [3]number `key:"turn" unit:"angle" doc:"about the housing's x, then y, then z direction, through the origin of what moves"`
}

type target struct {
	object
	On       text         `key:"on" need:"yes" is:"sitter" ref:"sitters" doc:"section, stiffener or component that the point is on"`
	Point    [3]number    `key:"point" need:"yes" unit:"length" doc:"in the component's own frame, turned with it, z away from the board; on sections and stiffeners in flat coordinates"`
	At       [3]number    `key:"at" need:"yes" unit:"length" doc:"where it is wanted, in the housing's frame"`
	Facing   [3]number    `key:"facing" need:"yes" unit:"count" like:"a direction [x, y, z]" doc:"direction that axis is to point in, in the housing's frame"`
	Axis     [3]number    `key:"axis" unit:"count" like:"a direction [x, y, z]" doc:"direction on the part; +x of a component, away from the board on a section or stiffener, if left out"`
	TurnAxis [2][3]number `key:"turn-axis" unit:"count" like:"two directions [[x, y, z], [x, y, z]], on the part and in the housing" doc:"direction on the part and the one in the housing's frame that it is to point along, seen along facing"`
	Within   *allowance   `key:"within" need:"yes" doc:"what is allowed, one bound or more"`
}

// allowance is how far a target may be missed.
type allowance struct {
	object
	Across number     `key:"across" unit:"length" range:"[0,)" doc:"off the line through at along facing"`
	Along  *alongSpan `key:"along" doc:"along facing: [from, to], or one number either way"`
	Tilt   number     `key:"tilt" unit:"angle" range:"[0,180]" doc:"between axis and facing"`
	Turn   number     `key:"turn" unit:"angle" range:"[0,180]" doc:"about facing, either way; needs turn-axis"`
}

type alongSpan struct {
	either
	Most number    `as:"word" unit:"length" range:"[0,)"`
	Ends [2]number `as:"list" unit:"length" like:"two lengths [from, to]"`
}

type clearance struct {
	object
	Board      number `key:"board" unit:"length" range:"[0,)" doc:"between parts of the board"`
	Components number `key:"components" unit:"length" range:"[0,)" doc:"to components"`
	Enclosure  number `key:"enclosure" unit:"length" range:"[0,)" doc:"to the enclosure"`
	Pairs      []pair `key:"pairs" like:"a list of {between: [a, b], gap: 0.2}" doc:"exceptions by pair of bodies"`
}

type pair struct {
	object
	Between [2]text `key:"between" need:"yes" is:"body" ref:"bodies" like:"two names [a, b]" doc:"names of bodies, * matches"`
	Gap     number  `key:"gap" need:"yes" unit:"length" doc:"required distance; 0 = may touch, negative = may overlap by so much"`
	Because text    `key:"because" is:"words" doc:"reason, required for a gap of 0 or less"`
}

// limits is also a file of limits, which names no other one.
type limits struct {
	object
	Profile      text   `key:"profile" words:"common strict" doc:"set of limits, common if left out"`
	File         text   `key:"file" is:"path" doc:"file of limits inside the design's folder; what stands here goes before it"`
	BendRatio    number `key:"bend-ratio" unit:"ratio" range:"(0,)" doc:"least inside radius over thickness of a bend"`
	BendStrain   number `key:"bend-strain" unit:"ratio" range:"(0,)" doc:"largest strain of the copper in per cent at bends in dynamic use"`
	InsideCorner number `key:"inside-corner" unit:"length" range:"[0,)" doc:"least radius of inside corners of the flex"`
}

type concession struct {
	object
	Rule    text   `key:"rule" need:"yes" is:"name" ref:"rules" doc:"rule that is set aside; foldfit rules lists them"`
	On      []text `key:"on" is:"subject" ref:"subjects" count:"1.." like:"a list of names such as [neck]" doc:"what it holds for, * matches; everything if left out"`
	DownTo  number `key:"down-to" unit:"bound" doc:"worst value that was accepted, as the finding counts it"`
	Because text   `key:"because" need:"yes" is:"words" doc:"why it is accepted"`
	By      text   `key:"by" need:"yes" is:"words" doc:"who accepted it"`
}

type loopLimit struct {
	object
	Gap   number `key:"gap" unit:"length" range:"[0,)"`
	Angle number `key:"angle" unit:"angle" range:"[0,360]"`
}
