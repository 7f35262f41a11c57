package finding

// english has the sentence of every code. A sentence is whole and its arguments
// have names, so that another language is another table of the same codes. A
// sentence about one reading ("reads long") follows the name of the reading,
// which the list prints.
var english = map[Code]sentence{
	// Safety. These sentences are written nowhere else.
	Utilities: {
		says: "A predicted position is not a locate. Have utilities located and marked before any hole or rod: in the US call 811, elsewhere the local one-call service. " +
			"Private lines, including this system, are usually not marked. Dig by hand near a mark.",
		source: "49 CFR 196.103, one-call before excavation; hand digging: the tolerance zone of state one-call laws (both from memory); private lines: common practice, no published source",
	},
	NeverEnter: {
		says:   "Never enter a tank, box, pit or trench to look or to fetch anything: the air in it kills without warning, and the sense of smell fails first.",
		source: "29 CFR 1910.146, permit-required confined spaces; NIOSH on hydrogen sulfide, that the sense of smell tires (both from memory)",
	},
	UnprotectedCut: {
		says: "Stay out of unprotected cuts. A trench {entry:depth} deep or more needs a way out within {reach:length} of everyone in it (29 CFR 1926.651), " +
			"one {protect:depth} deep or more needs protection against cave-in (29 CFR 1926.652).",
		source: "29 CFR 1926.651(c)(2) and 1926.652(a)(1); asbuilt/practice has the numbers",
	},
	Collapse: {
		says:   "Old tanks, lids and cesspools can collapse: keep people and machines off until they are found and checked; fence open holes.",
		source: "common practice, no published source",
	},
	Disease: {
		says:   "Sewage carries disease: wear gloves and eye protection, wash, and keep flames away from openings.",
		source: "CDC guidance for workers who handle sewage (from memory); flames: methane, common practice, no published source",
	},
	Estimates: {
		says:   "Positions and depths are estimates, not a survey; each depth may be wrong by more than its interval. Local code and licensed practice decide.",
		source: "the limits of this method; the record is not a boundary survey",
	},
	SafetyInShort: {
		says:   "Utilities marked first (in the US call 811). Nobody in a tank, a pit or an unprotected cut. Depths can be wrong.",
		source: "the first three of these sentences and the last, for a small screen; every plan prints them in full",
	},
	NotASurvey: {
		says:   "Estimated positions; not a survey, and not for boundary or setback determination: a licensed surveyor or designer must confirm.",
		source: "state laws on land surveying; common practice, no published source",
	},
	CoversToday: {says: "Covers are measured from the ground as it was on the day of the readings; later fill or grading changes them.", source: "follows from the readings"},
	CodeDecides: {says: "Local code and licensed practice decide what may be opened, repaired or recorded.", source: "common practice, no published source"},

	// Of a hole, a slot or a plan.
	DoNotDig:     {says: "Do not dig by this plan as it stands: {of}."},
	DoNotDigMap:  {says: "DO NOT DIG BY THIS MAP AS IT STANDS: {of}"},
	DoNotDigPlan: {says: "DO NOT DIG BY THIS PLAN AS IT STANDS: {of}"},
	DoNotUse:     {says: "NOT TO BE USED AS IT STANDS: {of}"},
	NothingDrawn: {says: "The sketch has no part: nothing is drawn."},
	SketchAlone:  {says: "No reading has been taken: everything here is from the old sketch alone."},
	NoHoleShown:  {says: "No next hole is shown because the fit is doubtful."},
	CaveIn: {
		says:   "May go past {protect:depth}: nobody in the cut without protection against cave-in (29 CFR 1926.652), and a way out within {reach:length} (29 CFR 1926.651).",
		source: "29 CFR 1926.652(a)(1), 5 ft, and 1926.651(c)(2)",
	},
	WayOut: {
		says:   "May go past {entry:depth}: a way out within {reach:length}, nobody in an unprotected cut (29 CFR 1926.651).",
		source: "29 CFR 1926.651(c)(2), 4 ft and 25 ft; the job may set another depth",
	},
	DepthUnknown: {
		says:   "Its depth is not known: from {entry:depth} down, a way out within {reach:length}, nobody in an unprotected cut (29 CFR 1926.651).",
		source: "29 CFR 1926.651(c)(2), 4 ft and 25 ft; the job may set another depth",
	},
	SlotEnd:          {says: "A slot {long:length} long, its far end {first:length} from {part} and {second:length} from {part2}, {of}."},
	SlotEndUnfixed:   {says: "A slot {long:length} long; two tapes do not fix its far end."},
	SlotCut:          {says: "Cut across in thin lifts and stop at the first gravel, pipe or lid. Log what was met and where, and the clean stretch as an empty hole every {step:length}. A bucket tears whatever it meets."},
	ClearanceNear:    {says: "The clearance of {part} is within {distance:length}: dig by hand."},
	ClearanceAssumed: {says: "The sketch gives {part} no clearance; {kept:length} is kept, a common tolerance zone. Local law decides."},
	UnderDriveway:    {says: "It lies under the driveway {part}."},
	NearWell:         {says: "Near the well {part}: keep the ground around it clean."},
	FewLandmarks:     {says: "There are fewer than two landmarks to tape this hole from."},
	FlatCrossing:     {says: "The tapes cross at {crossing:degrees}: a small error in one moves the hole a lot; use the third tape."},
	FlatTapes:        {says: "the tapes cross at only {crossing:degrees}, so a small error in one moves it a lot"},
	TapeBlocked:      {says: "A building stands in the way of the tape from {parts:and}: no two landmarks have a clear line to this hole. First set a stake with a clear line to both."},
	OnSide:           {says: "It lies {of}."},
	FarEndOnSide:     {says: "The far end lies {of}."},
	RightOfBrief:     {says: "right of {part} to {part2}"},
	LeftOfBrief:      {says: "left of {part} to {part2}"},
	RightOf:          {says: "right of the line from {part} to {part2}"},
	Right:            {says: "right"},
	Left:             {says: "left"},
	LeftOf:           {says: "left of the line from {part} to {part2}"},
	DepthLimited:     {says: "The crew's depth limit of {limit:depth} may be reached above the {part}: an empty hole then proves less."},
	BeliefUsedUp:     {says: "The empty holes cover {share:percent} of where the sought part was believed to lie: look for a wrong landmark or tape, or a drawing of something else, before digging on."},
	NoDraws:          {says: "Nothing can be planned: there are no samples of where the parts may lie."},
	NoneToSeek:       {says: "The sketch has no {part} to look for."},
	AlreadyMet:       {says: "Nothing to dig for: the {part} has been met, last in hole {hole}."},
	NowhereToDig:     {says: "No place where the {part} may lie can be dug: every place is within a clearance, under a building, or already dug."},
	PlanEnds:         {says: "The chance that one of these {holes:count} holes meets the {part}, each dug only if those before it are empty, is {chance:percent}. If they are all empty, log them and make a new plan."},
	MostlySearched:   {says: "The empty holes cover {share:percent} of where the {part} was believed to lie: it may well not be where the sketch says."},
	CameraHelps:      {says: "A push camera with a sonde from the outlet of {parts:and} would tell more than digging on."},
	OutletHelps:      {says: "Finding the tank outlet, and a push camera with a sonde from it, would tell more than digging on."},
	PortHelps:        {says: "Opening a port would help: {parts}."},
	LandmarkHelps:    {says: "A third landmark to tape from would help."},
	TapesHelp:        {says: "Taping between the landmarks again would help."},
	NothingToPlay:    {says: "There is nothing to look for."},

	// Of what a hole may meet, and what to do then.
	MetSought:  {says: "Met the {part}"},
	MetTrench:  {says: "Met a trench"},
	MetStart:   {says: "Met the near end of a trench, where its pipe comes in"},
	MetEnd:     {says: "Met the far end of a trench"},
	MetHeader:  {says: "Met a pipe without a trench: a header"},
	MetOther:   {says: "Met another part"},
	MetNothing: {says: "Met nothing down to the stop depth"},
	Done:       {says: "Done. Log it."},
	PlanAgain:  {says: "Log it and make a new plan."},
	FollowLine: {says: "First follow the {line} from {hole} toward {clock} ({part} is at 12:00): {length:length} ± {within:length} to the {part2}, about {minutes:count} minutes, chance {chance:percent}. Where you come out, or lose it, log a hole, and log that you followed the {line} there."},
	FollowOn:   {says: "Follow it toward {clock} ({part} is at 12:00): about {length:length} to the {part2}, {minutes:count} minutes. Log it."},

	RodRow:  {says: "First try the rod: {stabs:count} stabs {step:length} apart, each to {depth:depth}, about {minutes:count} minutes; chance to feel the {part} {chance:percent}. Log every stab, with or without a contact, and make a new plan: a contact may be a stone, so that somebody has to open it."},
	RodGrid: {says: "First try the rod: {lines:count} lines of {each:count} stabs, lines and stabs {step:length} apart, each stab to {depth:depth}, about {minutes:count} minutes; chance to feel the {part} {chance:percent}. Begin with the base line, then go to its right line by line. Log every stab, with or without a contact, and make a new plan: a contact may be a stone, so that somebody has to open it."},
	RodFrom: {says: "The first stab is {first:length} from {part} and {second:length} from {part2}, {of}."},
	RodTo:   {says: "The base line runs {long:length} to a place {first:length} from {part} and {second:length} from {part2}, {of}."},
	RodPierces: {
		says:   "A rod pierces gas and electric lines and plastic pipe: use it only where utilities are located and marked, and outside their clearances. Push by hand, without a hammer.",
		source: "common practice, no published source",
	},

	// Of the fit and the whole sheet.
	MetOneOf:      {says: "{hole} ({reading}) is {parts:odds}"},
	SideTaken:     {says: "{hole}: its two tapes cross on both sides of the line between their landmarks; taken on the side of the field. A third tape would settle it"},
	SideOpen:      {says: "{hole}: its two tapes cross on both sides of the line between their landmarks; the other side has {odds:percent}. A third tape would settle it"},
	TurnUnknown:   {says: "nothing says which way the drawing is turned: log a second fix far from the first, a bearing, or the sheet's north arrow"},
	Contradiction: {says: "the readings and the sketch do not agree (chance of so bad a fit: {chance:one}); see the suspects, or the sketch may be of something else"},
	Impossible:    {says: "the readings and the sketch do not agree (a fit as bad as this is practically impossible); see the suspects, or the sketch may be of something else"},
	NotConverged:  {says: "the adjustment did not converge: {status}"},
	AnotherLot:    {says: "nothing on the sheet fits the readings: it may show another lot or another design ({odds:percent})"},
	SheetOpen:     {says: "one thing about the sheet is not settled ({odds:percent}): {of}; {of:settles}"},
	OneDoesNotFit: {says: "{reading} does not fit the rest: void it, or log it again; everything else fits"},
	SheetFault:    {says: "{of}: {odds:percent}"},
	SheetMirrored: {says: "the sheet seems to be drawn from the other side (mirrored)", settles: "a baseline offset, a bearing or a third landmark would settle it"},
	SheetTurned:   {says: "the sheet's north seems to be {turn:degrees} off", settles: "a bearing or a second satellite fix would settle it"},
	SheetWalled:   {says: "tank and field seem to be drawn off another wall of the house", settles: "a hole that meets any part would settle it"},
	SheetNamed: {says: "the crew's corner {part} seems to be the sheet's {part2}, and so on round the house",
		settles: "check which corner is which; a tape along each wall would settle it"},
	SheetMetric:   {says: "the sheet's scale looks wrong: drawn in metres, though it says feet", settles: betweenLandmarks},
	SheetImperial: {says: "the sheet's scale looks wrong: drawn in feet, though it says metres", settles: betweenLandmarks},
	SheetRatio: {says: "the sheet's scale looks wrong: things lie {factor:factor} times as far apart as it says, as with a scale note of 1:{noted:count} for 1:{drawn:count}",
		settles: betweenLandmarks},
	SheetScaled: {says: "the sheet's scale looks wrong: things lie {factor:factor} times as far apart as it says", settles: betweenLandmarks},
	SheetOther: {says: "nothing on the sheet fits: it may show another lot or another design",
		settles: "ask for the record of this lot; find the tank outlet and follow the pipe"},
	NothingToFit:   {says: "the sketch has no landmark, tank, box, lateral or header to locate"},
	BadlyScaled:    {says: "the sketch cannot be fitted: its parts are so far apart or so close that their places cannot be computed reliably; check its unit ({unit})"},
	CannotFit:      {says: "the readings cannot be fitted"},
	DepthsSingular: {says: "the depths and levels cannot be computed reliably together; check for numbers that are far too large or too small"},

	// Of one reading: the blunder that would explain it.
	Suspect:       {says: "{reading} {of}"},
	FootLong:      {says: "reads 1.00 ft long: tape held at the 1 ft mark?"},
	FootShort:     {says: "reads 1.00 ft short: a foot dropped?"},
	MetreLong:     {says: "reads 1 m long: tape held at the 1 m mark?"},
	MetreShort:    {says: "reads 1 m short: a metre dropped?"},
	TenLong:       {says: "reads {amount} long: a tens figure misread?"},
	TenShort:      {says: "reads {amount} short: a tens figure misread?"},
	TapeShort:     {says: "reads {amount} short: a tape length not counted?"},
	InchesTenths:  {says: "fits as {amount}: inches and tenths mixed up?"},
	DigitsChanged: {says: "fits as {amount}: two digits swapped?"},
	InMetres:      {says: "fits as metres: the other side of the tape read?"},
	InFeet:        {says: "fits as feet: the other side of the tape read?"},
	UnitMixed:     {says: "fits as {amount}: another unit meant?"},
	OfOffset:      {says: "its offset {of}"},
	LeftForRight:  {says: "fits on the other side of its line: left and right mixed up?"},
	Backwards:     {says: "fits when measured from {from}, not from {instead}"},
	OtherCorner:   {says: "fits when taped from {part}, not from {part2}"},
	SlopeDistance: {says: "fits as a slope distance: was the tape not held level?"},
	SlopeUnnoted:  {says: "reads long, as a tape along the slope does: was it held level?"},
	TurnedRound:   {says: "fits turned round: read from the other end?"},
	MagneticNorth: {says: "fits if counted from magnetic north"},
	MaybeMagnetic: {says: "may be counted from magnetic north"},
	TrueNorth:     {says: "fits if counted from true north: was the declination set on the compass?"},
	OtherTrench:   {says: "fits as {part}, not {part2}"},
	StrayFix:      {says: "disagrees with the other readings: a stray or an old fix?"},
	MetOtherThing: {says: "does not fit there: it may have met something else"},
	OffLong:       {says: "reads {off:decimals} long against the other readings: measure it again"},
	OffShort:      {says: "reads {off:decimals} short against the other readings: measure it again"},
	OffTurned:     {says: "differs from the other readings by {off:degrees1}: measure it again"},
	DepthOff:      {says: "does not fit the other depths: measure it again"},

	// Of what holes changed.
	HolesExclude: {says: "the empty holes rule out {share:percent} of what was believed before them"},
	HoleStrange:  {says: "{hole} ({reading}) met a {part} where none was expected: measure its position again; or is it another pipe or trench?"},
	HoleCounts:   {says: "with them counted, {hole} ({reading}) is {parts:odds}"},
	MirrorCounts: {says: "with them counted, the chance that the sheet is mirrored is {odds:percent}"},

	// Of a log and a drawing.
	HoleUnplaced:  {says: "{file} row {row:count}: nothing says where hole {hole} is; tape it from two landmarks"},
	NameOnce:      {says: "{file} row {row:count}: {name} is used only once; did you mean landmark {part}?"},
	Unusual:       {says: "{kind} {part}: a {what} of {written} ({found:decimals}) is unusual; the usual range is {low:decimals} to {high:decimals}: {source}"},
	UnusualDrawn:  {says: "{kind} {part}: a {what} of {found:decimals} as drawn is unusual; the usual range is {low:decimals} to {high:decimals}: {source}"},
	UnusualGrade:  {says: "lateral {part}: a grade of {grade:plain} is unusual; the usual range is {low:plain} to {high:plain}: {source}"},
	WrittenDrawn:  {says: "{kind} {part}: written {written} ({found:decimals}), drawn {drawn:decimals} on a sheet that is said to be to scale: more than {most:percent} apart"},
	Outlets:       {says: "box {part}: it feeds {fed:count} laterals as drawn, more than its outlets: {outlets:count}"},
	DrawnBackward: {says: "lateral {part}: its last vertex lies much nearer to box {part2} than its first; laterals are drawn from the box to the distal end"},
	Spacing:       {says: "lateral {part}: drawn {distance:decimals} from lateral {part2}, centre to centre; the usual range is {low:decimals} to {high:decimals}: {source}"},

	// Of a record.
	NoAccuracy:       {says: "No accuracy is stated: {of}."},
	NoReading:        {says: "No accuracy is stated: no reading has been taken; there is only the old sketch."},
	AccuracySeen:     {says: "Spots seen ({spots:count}): compiled to meet {accuracy:accuracy} horizontal accuracy at 95 % confidence level, relative to the landmarks."},
	AccuracyInferred: {says: "Spots inferred ({spots:count}): compiled to meet {accuracy:accuracy} horizontal accuracy at 95 % confidence level, relative to the landmarks."},
	AccuracyRecorded: {says: "Spots recorded only ({spots:count}): not measured; no accuracy is claimed beyond what such sheets usually have ({accuracy:accuracy} at 95 %)."},
	NotTested: {
		says: "Estimated from the adjustment, not tested: the National Standard for Spatial Data Accuracy (FGDC-STD-007.3-1998) requires a test against 20 or more check points " +
			"from an independent source of higher accuracy; there are none here.",
		source: "FGDC-STD-007.3-1998",
	},
}

// betweenLandmarks settles every wrong scale.
const betweenLandmarks = "a tape between two landmarks would settle it"
