package finding

// Safety: what is printed before every dig.
const (
	Utilities      Code = "utilities"
	NeverEnter     Code = "never-enter"
	UnprotectedCut Code = "unprotected-cut"
	Collapse       Code = "collapse"
	Disease        Code = "disease"
	Estimates      Code = "estimates"
	SafetyInShort  Code = "safety-in-short"
	NotASurvey     Code = "not-a-survey"
	CoversToday    Code = "covers-of-today"
	CodeDecides    Code = "code-decides"
)

// Of a hole, a slot or a plan.
const (
	DoNotDig         Code = "do-not-dig"
	DoNotDigMap      Code = "do-not-dig-by-map"
	DoNotDigPlan     Code = "do-not-dig-by-plan"
	DoNotUse         Code = "do-not-use"
	NothingDrawn     Code = "nothing-drawn"
	SketchAlone      Code = "sketch-alone"
	NoHoleShown      Code = "no-hole-shown"
	CaveIn           Code = "cave-in"
	WayOut           Code = "way-out"
	DepthUnknown     Code = "depth-unknown"
	SlotEnd          Code = "slot-end"
	SlotEndUnfixed   Code = "slot-end-unfixed"
	SlotCut          Code = "slot-cut"
	ClearanceNear    Code = "clearance-near"
	ClearanceAssumed Code = "clearance-assumed"
	UtilityMet       Code = "utility-met"
	UnderDriveway    Code = "under-driveway"
	NearWell         Code = "near-well"
	FewLandmarks     Code = "few-landmarks"
	FlatCrossing     Code = "flat-crossing"
	FlatTapes        Code = "flat-tapes"
	TapeBlocked      Code = "tape-blocked"
	OnSide           Code = "on-side"
	FarEndOnSide     Code = "far-end-on-side"
	RightOf          Code = "right-of"
	LeftOf           Code = "left-of"
	Right            Code = "right"
	Left             Code = "left"
	RightOfBrief     Code = "right-of-brief"
	LeftOfBrief      Code = "left-of-brief"
	DepthLimited     Code = "depth-limited"
	BeliefUsedUp     Code = "belief-used-up"
	NoDraws          Code = "no-draws"
	NoneToSeek       Code = "none-to-seek"
	AlreadyMet       Code = "already-met"
	NowhereToDig     Code = "nowhere-to-dig"
	PlanEnds         Code = "plan-ends"
	MostlySearched   Code = "mostly-searched"
	CameraHelps      Code = "camera-helps"
	OutletHelps      Code = "outlet-helps"
	PortHelps        Code = "port-helps"
	LandmarkHelps    Code = "landmark-helps"
	TapesHelp        Code = "tapes-help"
	NothingToPlay    Code = "nothing-to-play"
)

// Of what a hole may meet, and what to do then.
const (
	MetSought  Code = "met-sought"
	MetTrench  Code = "met-trench"
	MetStart   Code = "met-start"
	MetEnd     Code = "met-end"
	MetHeader  Code = "met-header"
	MetOther   Code = "met-other"
	MetNothing Code = "met-nothing"
	Done       Code = "done"
	PlanAgain  Code = "plan-again"
	FollowLine Code = "follow-line"
	FollowOn   Code = "follow-on"
	PushCable  Code = "push-cable"
	PushSonde  Code = "push-sonde"
	RodRow     Code = "rod-row"
	RodGrid    Code = "rod-grid"
	RodFrom    Code = "rod-from"
	RodTo      Code = "rod-to"
	RodPierces Code = "rod-pierces"
)

// Of the fit and the whole sheet.
const (
	MetOneOf       Code = "met-one-of"
	SideTaken      Code = "side-taken"
	SideOpen       Code = "side-open"
	TiesOpen       Code = "ties-open"
	TurnUnknown    Code = "turn-unknown"
	Contradiction  Code = "contradiction"
	Impossible     Code = "impossible"
	NotConverged   Code = "not-converged"
	NotConvergedBy Code = "not-converged-by"
	AnotherLot     Code = "another-lot"
	SheetOpen      Code = "sheet-open"
	OneDoesNotFit  Code = "one-does-not-fit"
	SheetFault     Code = "sheet-fault"
	SheetMirrored  Code = "sheet-mirrored"
	SheetTurned    Code = "sheet-turned"
	SheetWalled    Code = "sheet-wrong-wall"
	SheetNamed     Code = "sheet-wrong-corners"
	SheetMetric    Code = "sheet-metric"
	SheetImperial  Code = "sheet-in-feet"
	SheetRatio     Code = "sheet-wrong-ratio"
	SheetScaled    Code = "sheet-wrong-scale"
	SheetOther     Code = "sheet-of-another-lot"
	NothingToFit   Code = "nothing-to-fit"
	BadlyScaled    Code = "badly-scaled"
	CannotFit      Code = "cannot-fit"
	DepthsSingular Code = "depths-singular"
	JobUnreadable  Code = "job-unreadable"
	EngineFailed   Code = "engine-failed"
	TooManyRows    Code = "too-many-readings"
	TooManyPoints  Code = "too-many-points"
	TookTooLong    Code = "took-too-long"
)

// Of one reading: the blunder that would explain it.
const (
	Suspect       Code = "suspect"
	FootLong      Code = "foot-long"
	FootShort     Code = "foot-short"
	MetreLong     Code = "metre-long"
	MetreShort    Code = "metre-short"
	TenLong       Code = "ten-long"
	TenShort      Code = "ten-short"
	TapeShort     Code = "tape-short"
	InchesTenths  Code = "inches-tenths"
	DigitsChanged Code = "digits-changed"
	InMetres      Code = "in-metres"
	InFeet        Code = "in-feet"
	UnitMixed     Code = "unit-mixed"
	OfOffset      Code = "of-offset"
	LeftForRight  Code = "left-for-right"
	Backwards     Code = "backwards"
	OtherCorner   Code = "other-corner"
	SlopeDistance Code = "slope-distance"
	SlopeUnnoted  Code = "slope-unnoted"
	TurnedRound   Code = "turned-round"
	MagneticNorth Code = "magnetic-north"
	MaybeMagnetic Code = "maybe-magnetic"
	TrueNorth     Code = "true-north"
	OtherTrench   Code = "other-trench"
	StrayFix      Code = "stray-fix"
	MetOtherThing Code = "met-other-thing"
	CableStopped  Code = "cable-stopped"
	SondeGhost    Code = "sonde-ghost"
	OffLong       Code = "off-long"
	OffShort      Code = "off-short"
	OffTurned     Code = "off-turned"
	DepthOff      Code = "depth-off"
)

// Of an entry that is about to be logged: questions.
const (
	NameClose       Code = "name-close"
	PointClose      Code = "point-close"
	TapeBeyondLot   Code = "tape-beyond-lot"
	TapeOff         Code = "tape-off"
	TapeOffMeant    Code = "tape-off-meant"
	TapesShort      Code = "tapes-short"
	TapesLong       Code = "tapes-long"
	TapesDisagree   Code = "tapes-disagree"
	FarFromProposed Code = "far-from-proposed"
	MetElsewhere    Code = "met-elsewhere"
	FoundTwice      Code = "found-twice"
	DepthFar        Code = "depth-far"
	DepthFarMeant   Code = "depth-far-meant"
	DepthOdd        Code = "depth-odd"
	DepthOddMeant   Code = "depth-odd-meant"
)

// Of a hole of a plan.
const MayMeet Code = "may-meet"

// Of how far sheets err.
const (
	DraftingTrust  Code = "drafting-trust"
	DraftingBy     Code = "drafting-by"
	DraftingDecade Code = "drafting-decade"
)

// Of what holes changed.
const (
	HolesExclude Code = "holes-exclude"
	HoleStrange  Code = "hole-strange"
	HoleCounts   Code = "hole-counts"
	MirrorCounts Code = "mirror-counts"

	PromisesBroken Code = "promises-broken"
	LookStrange    Code = "look-strange"
	LookReading    Code = "look-reading"
	LookDepth      Code = "look-depth"
	LookSheet      Code = "look-sheet"
)

// Of a log and a drawing.
const (
	HoleUnplaced  Code = "hole-unplaced"
	NameOnce      Code = "name-once"
	Unusual       Code = "unusual"
	UnusualDrawn  Code = "unusual-drawn"
	UnusualGrade  Code = "unusual-grade"
	WrittenDrawn  Code = "written-against-drawn"
	DrawnUnder    Code = "drawn-under"
	Outlets       Code = "outlets"
	DrawnBackward Code = "drawn-backwards"
	Spacing       Code = "unusual-spacing"
)

// Of a record.
const (
	NoAccuracy       Code = "no-accuracy"
	NoReading        Code = "no-reading"
	AccuracySeen     Code = "accuracy-seen"
	AccuracyInferred Code = "accuracy-inferred"
	AccuracyRecorded Code = "accuracy-recorded"
	NotTested        Code = "not-tested"
)
