package finding

// spanish has the sentence of every code, with the arguments of its English one.
// Requests are made with usted. The terms and where each is from are in
// testdata/reference/spanish.csv. No native reader has seen these sentences yet.
//
// A part or a word takes the form :the (el tanque, la caja), :of (del tanque),
// :to (al tanque), :a (un tanque) or :name (tanque) where it may be a kind: see
// nouns. An id stays as it is.
var spanish = map[Code]sentence{
	Utilities: {says: "Una posición calculada no es una localización de servicios. Antes de cualquier hoyo o varilla, haga localizar y marcar los servicios públicos: en EE. UU. llame al 811; en otro país, al centro de aviso local. " +
		"Las líneas privadas, también este sistema, casi nunca se marcan. Cerca de una marca, excave a mano."},
	NeverEnter: {says: "Nunca entre en un tanque, caja, fosa, pozo ni zanja, ni a mirar ni a sacar nada: el gas séptico mata sin avisar, y antes se pierde el olfato."},
	UnprotectedCut: {says: "No entre en excavaciones sin protección. Una zanja de {entry:depth} o más de profundidad necesita una salida a no más de {reach:length} de cada persona que esté en ella (29 CFR 1926.651); " +
		"una de {protect:depth} o más, protección contra derrumbes (29 CFR 1926.652)."},
	Collapse:      {says: "Tanques, tapas y pozos negros viejos pueden hundirse: nadie ni máquinas encima hasta hallarlos y revisarlos; cerque los hoyos abiertos."},
	Disease:       {says: "Las aguas negras enferman: use guantes y lentes de seguridad, lávese, y nada de llamas cerca de las aberturas."},
	Estimates:     {says: "Lugares y profundidades son estimaciones, no un levantamiento topográfico; cada profundidad puede fallar por más que su margen. Mandan las normas locales y el profesional con licencia."},
	SafetyInShort: {says: "Servicios marcados antes (en EE. UU. llame al 811). Nadie en tanque, fosa ni excavación sin protección. La profundidad puede fallar."},
	NotASurvey:    {says: "Posiciones estimadas; no es un levantamiento topográfico ni sirve para fijar linderos o retiros: debe confirmarlas un topógrafo o diseñador con licencia."},
	CoversToday:   {says: "El tapado se mide desde el terreno tal como estaba el día de las lecturas; un relleno o una nivelación posterior lo cambia."},
	CodeDecides:   {says: "Las normas locales y el profesional con licencia deciden qué se puede abrir, reparar o registrar."},

	DoNotDig:         {says: "No excave con este plan tal como está: {of}."},
	DoNotDigMap:      {says: "NO EXCAVE CON ESTE MAPA TAL COMO ESTÁ: {of}"},
	DoNotDigPlan:     {says: "NO EXCAVE CON ESTE PLAN TAL COMO ESTÁ: {of}"},
	DoNotUse:         {says: "NO LO USE TAL COMO ESTÁ: {of}"},
	NothingDrawn:     {says: "El croquis no tiene partes: no se dibuja nada."},
	SketchAlone:      {says: "No se ha tomado ninguna lectura: todo lo de aquí viene solo del croquis viejo."},
	NoHoleShown:      {says: "No se muestra el siguiente hoyo porque el ajuste es dudoso."},
	CaveIn:           {says: "Puede pasar de {protect:depth}: nadie en la excavación sin protección contra derrumbes (29 CFR 1926.652), y una salida a no más de {reach:length} (29 CFR 1926.651)."},
	WayOut:           {says: "Puede pasar de {entry:depth}: una salida a no más de {reach:length}, nadie en una excavación sin protección (29 CFR 1926.651)."},
	DepthUnknown:     {says: "No se sabe su profundidad: desde {entry:depth} hacia abajo, una salida a no más de {reach:length}, nadie en una excavación sin protección (29 CFR 1926.651)."},
	UtilityMet:       {says: "En el hoyo {hole} salió una línea que no es de este sistema. Pare ahí hasta que su dueño la marque: puede estar activa, y no se sabe por dónde va. No se propone ningún hoyo a menos de {kept:length} de lo que abrió el hoyo {hole}."},
	SlotEnd:          {says: "Una cala de {long:length} de largo; su extremo lejano, a {first:length} de {part} y a {second:length} de {part2}, {of}."},
	SlotEndUnfixed:   {says: "Una cala de {long:length} de largo; dos cintas no fijan su extremo lejano."},
	SlotCut:          {says: "Corte atravesado, en capas delgadas, y pare en la primera grava, tubo o tapa. Anote qué encontró y dónde, y el tramo limpio como hoyo vacío cada {step:length}. El balde rompe lo que toca."},
	ClearanceNear:    {says: "La zona de resguardo de {part} queda a {distance:length}: excave a mano."},
	ClearanceAssumed: {says: "El croquis no da resguardo para {part}; se usan {kept:length}, una zona de tolerancia común. Manda la ley local."},
	UnderDriveway:    {says: "Queda bajo la entrada de autos {part}."},
	NearWell:         {says: "Cerca del pozo de agua {part}: mantenga limpio el terreno alrededor."},
	FewLandmarks:     {says: "No hay dos puntos fijos para trazar este hoyo con cinta."},
	FlatCrossing:     {says: "Las cintas se cruzan a {crossing:degrees}: un error chico en una mueve mucho el hoyo; use la tercera cinta."},
	FlatTapes:        {says: "las cintas se cruzan a solo {crossing:degrees}: un error chico en una lo mueve mucho"},
	TapeBlocked:      {says: "Un edificio tapa la cinta desde {parts:and}: no hay dos puntos fijos con vista libre a este hoyo. Clave primero una estaca con vista libre a los dos."},
	OnSide:           {says: "Queda {of}."},
	FarEndOnSide:     {says: "El extremo lejano queda {of}."},
	RightOfBrief:     {says: "derecha de {part} a {part2}"},
	LeftOfBrief:      {says: "izquierda de {part} a {part2}"},
	RightOf:          {says: "a la derecha de la línea de {part} a {part2}"},
	LeftOf:           {says: "a la izquierda de la línea de {part} a {part2}"},
	Right:            {says: "derecha"},
	Left:             {says: "izquierda"},
	DepthLimited:     {says: "El límite de {limit:depth} de la cuadrilla puede llegar antes que {part:the}: un hoyo vacío dice entonces menos."},
	BeliefUsedUp:     {says: "Los hoyos vacíos cubren el {share:percent} de donde se creía lo que se busca: antes de seguir, busque un punto fijo o una cinta mal, o un croquis de otra cosa."},
	NoDraws:          {says: "No se puede planear nada: no hay muestras de dónde pueden estar las partes."},
	NoneToSeek:       {says: "El croquis no tiene {part:name} que buscar."},
	AlreadyMet:       {says: "No hay nada que excavar: {part:the} ya se encontró, la última vez en el hoyo {hole}."},
	NowhereToDig:     {says: "Ningún lugar donde puede estar {part:the} se puede excavar: todos quedan dentro de un resguardo, bajo un edificio o donde ya se excavó."},
	PlanEnds:         {says: "Probabilidad de que alguno de estos hoyos ({holes:count}) dé con {part:the}, si cada uno se excava solo cuando los anteriores salen vacíos: {chance:percent}. Si todos salen vacíos, anótelos y haga un plan nuevo."},
	MostlySearched:   {says: "Los hoyos vacíos cubren el {share:percent} de donde se creía {part:the}: bien puede no estar donde dice el croquis."},
	CameraHelps:      {says: "Una cámara de empuje con sonda desde la salida de {parts:and} diría más que seguir excavando."},
	OutletHelps:      {says: "Hallar la salida del tanque, y pasar desde ella una cámara de empuje con sonda, diría más que seguir excavando."},
	PortHelps:        {says: "Ayudaría abrir un registro: {parts}."},
	LandmarkHelps:    {says: "Ayudaría un tercer punto fijo desde donde medir con cinta."},
	TapesHelp:        {says: "Ayudaría medir otra vez con cinta entre los puntos fijos."},
	NothingToPlay:    {says: "No hay nada que buscar."},

	MetSought:  {says: "Encontró {part:the}"},
	MetTrench:  {says: "Encontró una zanja"},
	MetStart:   {says: "Encontró el extremo cercano de una zanja, por donde entra su tubo"},
	MetEnd:     {says: "Encontró el extremo lejano de una zanja"},
	MetHeader:  {says: "Encontró un tubo sin zanja: un tubo de distribución"},
	MetOther:   {says: "Encontró otra parte"},
	MetNothing: {says: "No encontró nada hasta la profundidad de parar"},
	Done:       {says: "Listo. Anótelo."},
	PlanAgain:  {says: "Anótelo y haga un plan nuevo."},
	FollowLine: {says: "Primero siga {line:the} desde {hole} hacia las {clock} ({part} está a las 12:00): {length:length} ± {within:length} hasta {part2:the}, unos {minutes:count} minutos, probabilidad {chance:percent}. Donde llegue, o donde se le pierda, anote un hoyo, y anote que hasta ahí siguió {line:the}."},
	PushCable:  {says: "Primero abra {part:the}, meta una guía por su salida hasta {part2:the} y mida la guía: unos {minutes:count} minutos, probabilidad de que llegue {chance:percent}. Anote el tubo que sale {part:of} y hacia dónde va, y la guía desde {part:the} hasta {part2:the}."},
	PushSonde:  {says: "Primero abra {part:the}, meta una cámara con sonda por su salida hasta {part2:the} y localícela desde arriba: unos {minutes:count} minutos, probabilidad de que llegue {chance:percent}. Clave una estaca, mida el lugar con cinta, y anote la sonda y su profundidad."},
	FollowOn:   {says: "Sígalo hacia las {clock} ({part} está a las 12:00): unos {length:length} hasta {part2:the}, {minutes:count} minutos. Anótelo."},

	RodRow:     {says: "Primero pruebe con la varilla: {stabs:count} sondeos cada {step:length}, cada uno hasta {depth:depth}, unos {minutes:count} minutos; probabilidad de sentir {part:the}: {chance:percent}. Anote cada sondeo, con contacto o sin él, y haga un plan nuevo: un contacto puede ser una piedra, así que alguien tiene que abrirlo."},
	RodGrid:    {says: "Primero pruebe con la varilla: {lines:count} líneas de {each:count} sondeos, líneas y sondeos cada {step:length}, cada sondeo hasta {depth:depth}, unos {minutes:count} minutos; probabilidad de sentir {part:the}: {chance:percent}. Empiece por la línea base y siga a su derecha, línea por línea. Anote cada sondeo, con contacto o sin él, y haga un plan nuevo: un contacto puede ser una piedra, así que alguien tiene que abrirlo."},
	RodFrom:    {says: "El primer sondeo queda a {first:length} de {part} y a {second:length} de {part2}, {of}."},
	RodTo:      {says: "La línea base va {long:length} hasta un lugar a {first:length} de {part} y a {second:length} de {part2}, {of}."},
	RodPierces: {says: "La varilla perfora líneas de gas y de luz y tubos de plástico: úsela solo donde los servicios estén localizados y marcados, y fuera de sus resguardos. Empuje a mano, sin martillo."},

	MetOneOf:       {says: "{hole} ({reading}) es {parts:odds}"},
	SideTaken:      {says: "{hole}: sus dos cintas se cruzan a ambos lados de la línea entre sus puntos fijos; se toma el lado del campo. Una tercera cinta lo resolvería"},
	TiesOpen:       {says: "{part}: sus dos medidas escritas se cruzan a ambos lados de la línea entre sus puntos fijos; el otro lado tiene {odds:percent}. Un hoyo, o una tercera medida, lo resolvería"},
	SideOpen:       {says: "{hole}: sus dos cintas se cruzan a ambos lados de la línea entre sus puntos fijos; el otro lado tiene {odds:percent}. Una tercera cinta lo resolvería"},
	TurnUnknown:    {says: "nada dice hacia dónde está girado el dibujo: anote una segunda posición GPS lejos de la primera, un azimut, o la flecha de norte de la hoja"},
	Contradiction:  {says: "las lecturas y el croquis no cuadran (probabilidad de un ajuste tan malo: {chance:one}); vea las lecturas sospechosas, o el croquis puede ser de otra cosa"},
	Impossible:     {says: "las lecturas y el croquis no cuadran (un ajuste tan malo es prácticamente imposible); vea las lecturas sospechosas, o el croquis puede ser de otra cosa"},
	NotConverged:   {says: "el ajuste no se asentó ({status:name}): mire primero lo último que se anotó"},
	NotConvergedBy: {says: "el ajuste no se asentó ({status:name}): mire primero {reading}, que {of}"},
	AnotherLot:     {says: "nada de la hoja cuadra con las lecturas: puede mostrar otro lote u otro diseño ({odds:percent})"},
	SheetOpen:      {says: "queda algo sin resolver sobre la hoja ({odds:percent}): {of}; {of:settles}"},
	OneDoesNotFit:  {says: "{reading} no cuadra con lo demás: anúlela o anótela otra vez; todo lo demás cuadra"},
	SheetFault:     {says: "{of}: {odds:percent}"},
	SheetMirrored:  {says: "la hoja parece dibujada desde el otro lado (volteada)", settles: "una medida a escuadra de una línea base, un azimut o un tercer punto fijo lo resolvería"},
	SheetTurned:    {says: "el norte de la hoja parece estar desviado {turn:degrees}", settles: "un azimut o una segunda posición GPS lo resolvería"},
	SheetWalled:    {says: "el tanque y el campo parecen dibujados desde otro muro de la casa", settles: "un hoyo que encuentre cualquier parte lo resolvería"},
	SheetNamed: {says: "la esquina {part} de la cuadrilla parece ser {part2} de la hoja, y así alrededor de la casa",
		settles: "compruebe qué esquina es cuál; una cinta a lo largo de cada muro lo resolvería"},
	SheetMetric:   {says: "la escala de la hoja parece equivocada: dibujada en metros, aunque dice pies", settles: betweenLandmarksSpanish},
	SheetImperial: {says: "la escala de la hoja parece equivocada: dibujada en pies, aunque dice metros", settles: betweenLandmarksSpanish},
	SheetRatio: {says: "la escala de la hoja parece equivocada: las cosas están {factor:factor} veces tan separadas como dice, como con una nota de escala de 1:{noted:count} en vez de 1:{drawn:count}",
		settles: betweenLandmarksSpanish},
	SheetScaled: {says: "la escala de la hoja parece equivocada: las cosas están {factor:factor} veces tan separadas como dice", settles: betweenLandmarksSpanish},
	SheetOther: {says: "nada de la hoja cuadra: puede mostrar otro lote u otro diseño",
		settles: "pida el plano del expediente de este lote; halle la salida del tanque y siga el tubo"},
	NothingToFit:   {says: "el croquis no tiene punto fijo, tanque, caja, zanja ni tubo de distribución que ubicar"},
	BadlyScaled:    {says: "el croquis no se puede ajustar: sus partes están tan lejos o tan cerca que sus lugares no se pueden calcular con confianza; revise su unidad ({unit})"},
	CannotFit:      {says: "las lecturas no se pueden ajustar"},
	DepthsSingular: {says: "las profundidades y los niveles no se pueden calcular juntos con confianza; busque números demasiado grandes o demasiado chicos"},
	JobUnreadable:  {says: "el trabajo no se puede leer"},
	EngineFailed:   {says: "este trabajo no se puede calcular: el motor falló con él ({why}). Las lecturas están a salvo; por favor, informe del trabajo"},

	Suspect:       {says: "{reading} {of}"},
	FootLong:      {says: "marca 1.00 pie de más: ¿cinta en la marca de 1 pie?"},
	FootShort:     {says: "marca 1.00 pie de menos: ¿faltó un pie?"},
	MetreLong:     {says: "marca 1 m de más: ¿cinta en la marca de 1 m?"},
	MetreShort:    {says: "marca 1 m de menos: ¿faltó un metro?"},
	TenLong:       {says: "marca {amount} de más: ¿decenas mal leídas?"},
	TenShort:      {says: "marca {amount} de menos: ¿decenas mal leídas?"},
	TapeShort:     {says: "marca {amount} de menos: ¿faltó contar una cinta entera?"},
	InchesTenths:  {says: "cuadra como {amount}: ¿pulgadas por décimas?"},
	DigitsChanged: {says: "cuadra como {amount}: ¿cifras cambiadas?"},
	InMetres:      {says: "cuadra en metros: ¿se leyó el otro lado de la cinta?"},
	InFeet:        {says: "cuadra en pies: ¿se leyó el otro lado de la cinta?"},
	UnitMixed:     {says: "cuadra como {amount}: ¿era otra unidad?"},
	OfOffset:      {says: "su medida a escuadra {of}"},
	LeftForRight:  {says: "cuadra al otro lado de su línea: ¿izquierda por derecha?"},
	Backwards:     {says: "cuadra si se midió desde {from}, no desde {instead}"},
	OtherCorner:   {says: "cuadra si la cinta salió de {part}, no de {part2}"},
	SlopeDistance: {says: "cuadra como distancia inclinada: ¿la cinta no estaba a nivel?"},
	SlopeUnnoted:  {says: "marca de más, como una cinta que sigue la pendiente: ¿estaba a nivel?"},
	TurnedRound:   {says: "cuadra al revés: ¿se leyó desde el otro extremo?"},
	MagneticNorth: {says: "cuadra si se cuenta desde el norte magnético"},
	MaybeMagnetic: {says: "puede estar contado desde el norte magnético"},
	TrueNorth:     {says: "cuadra si se cuenta desde el norte verdadero: ¿la brújula ya tenía puesta la declinación?"},
	OtherTrench:   {says: "cuadra como {part}, no {part2}"},
	StrayFix:      {says: "no cuadra con las otras lecturas: ¿una posición GPS perdida o vieja?"},
	MetOtherThing: {says: "no cuadra ahí: puede que se encontrara otra cosa"},
	CableStopped:  {says: "no cuadra: la guía pudo pararse antes, en raíces o un codo, o irse por otro lado"},
	SondeGhost:    {says: "no cuadra ahí: el receptor también marca un pico al lado de la sonda, y sobre otro tubo; localícela otra vez"},
	OffLong:       {says: "marca {off:decimals} de más frente a las otras lecturas: mídala otra vez"},
	OffShort:      {says: "marca {off:decimals} de menos frente a las otras lecturas: mídala otra vez"},
	OffTurned:     {says: "difiere {off:degrees1} de las otras lecturas: mídala otra vez"},
	DepthOff:      {says: "no cuadra con las otras profundidades: mídala otra vez"},

	NameClose:       {says: "{name} es un nombre nuevo; ¿quiso decir {known}?"},
	PointClose:      {says: "{name} queda a {away:length} de {known}: ¿es lo mismo?"},
	TapeBeyondLot:   {says: "{read:length} de {part} a {part2} es más que todo el lote como está dibujado, {lot:length}."},
	TapeOff:         {says: "{read:length} de {part} a {part2}: por todas las otras lecturas son unos {fitted:length}."},
	TapeOffMeant:    {says: "{read:length} de {part} a {part2}: por todas las otras lecturas son unos {fitted:length}. ¿Quiso decir {amount}?"},
	TapesShort:      {says: "Las cintas de {part} y {part2} no se juntan: entre las dos faltan {gap:length}."},
	TapesLong:       {says: "Las cintas de {part} y {part2} no se juntan: a la de {part} le sobran {gap:length} para la otra."},
	TapesDisagree:   {says: "Las cintas no se juntan en un solo lugar: por las dos primeras, {third} queda a {fitted:length}, no a {read:length}."},
	FarFromProposed: {says: "Este lugar queda a {away:length} del hoyo que se propuso."},
	MetElsewhere:    {says: "Se cree que {part:the} queda a {away:length} o más de aquí."},
	FoundTwice:      {says: "En {hole} y en {hole2} se encontró {part:the}, con {away:length} de por medio: en uno se encontró otra cosa, o se midió mal."},
	DepthFar:        {says: "{read:length} de profundidad, donde se esperan unos {fitted:length}."},
	DepthFarMeant:   {says: "{read:length} de profundidad, donde se esperan unos {fitted:length}. ¿Quiso decir {amount}?"},
	DepthOdd:        {says: "{read:length} es una profundidad rara para un hoyo aquí."},
	DepthOddMeant:   {says: "{read:length} es una profundidad rara para un hoyo aquí. ¿Quiso decir {amount}?"},

	MayMeet: {says: "puede salir {parts:each}"},

	DraftingTrust:  {says: "cuánto puede fallar la hoja se aprendió de {jobs:count} trabajos terminados con hojas así: su escala {scale:factor}, el campo en conjunto {field:factor} y todo lo demás {detail:factor} veces lo usual"},
	DraftingBy:     {says: "cuánto puede fallar la hoja se aprendió de {jobs:count} trabajos terminados con hojas así de {by}: su escala {scale:factor}, el campo en conjunto {field:factor} y todo lo demás {detail:factor} veces lo usual"},
	DraftingDecade: {says: "cuánto puede fallar la hoja se aprendió de {jobs:count} trabajos terminados con hojas así (década: {decade}): su escala {scale:factor}, el campo en conjunto {field:factor} y todo lo demás {detail:factor} veces lo usual"},

	HolesExclude: {says: "los hoyos vacíos descartan el {share:percent} de lo que se creía antes de ellos"},
	HoleStrange:  {says: "en {hole} ({reading}) se encontró {part:a} donde no se esperaba: mida otra vez su posición; ¿o es otro tubo u otra zanja?"},
	HoleCounts:   {says: "contándolos, {hole} ({reading}) es {parts:odds}"},
	MirrorCounts: {says: "contándolos, la probabilidad de que la hoja esté volteada es {odds:percent}"},

	PromisesBroken: {says: "la probabilidad de que ninguno de los hoyos hasta ahora diera con {part:the} era {chance:one}; {of}"},
	LookStrange:    {says: "mire primero {hole} ({reading}), donde se encontró {part:a} sin esperarse"},
	LookReading:    {says: "mire primero {reading}, que no cuadra con lo demás"},
	LookDepth:      {says: "mire primero {hole}, que no tiene profundidad: puede que no bajara lo suficiente"},
	LookSheet:      {says: "si todos bajaron hasta su profundidad de parar, queda más lejos de lo que una hoja de esta calidad debería ponerlo: revise los puntos fijos, o dé al croquis menos confianza"},

	HoleUnplaced:  {says: "{file} fila {row:count}: nada dice dónde está el hoyo {hole}; mídalo con cinta desde dos puntos fijos"},
	NameOnce:      {says: "{file} fila {row:count}: {name} se usa una sola vez; ¿quiso decir el punto fijo {part}?"},
	Unusual:       {says: "{kind:name} {part}: {what:name} de {written} ({found:decimals}) no es usual; lo usual es de {low:decimals} a {high:decimals}: {source}"},
	UnusualDrawn:  {says: "{kind:name} {part}: {what:name} de {found:decimals}, según el dibujo, no es usual; lo usual es de {low:decimals} a {high:decimals}: {source}"},
	UnusualGrade:  {says: "zanja {part}: una pendiente de {grade:plain} no es usual; lo usual es de {low:plain} a {high:plain}: {source}"},
	DrawnUnder:    {says: "{kind:name} {part}: está en el dibujo dentro de un edificio; vea si el croquis se calcó bien, o si se construyó encima"},
	WrittenDrawn:  {says: "{kind:name} {part}: escrito {written} ({found:decimals}), en el dibujo {drawn:decimals}, en una hoja que dice estar a escala: difieren más de {most:percent}"},
	Outlets:       {says: "caja {part}: según el dibujo alimenta más zanjas ({fed:count}) que salidas tiene ({outlets:count})"},
	DrawnBackward: {says: "zanja {part}: su último vértice queda mucho más cerca de la caja {part2} que el primero; las zanjas se dibujan de la caja al extremo lejano"},
	Spacing:       {says: "zanja {part}: según el dibujo a {distance:decimals} de la zanja {part2}, de centro a centro; lo usual es de {low:decimals} a {high:decimals}: {source}"},

	NoAccuracy:       {says: "No se declara exactitud: {of}."},
	NoReading:        {says: "No se declara exactitud: no se ha tomado ninguna lectura; solo está el croquis viejo."},
	AccuracySeen:     {says: "Puntos que se vieron ({spots:count}): compilados para cumplir una exactitud horizontal de {accuracy:accuracy} con 95 % de confianza, respecto de los puntos fijos."},
	AccuracyInferred: {says: "Puntos que se deducen ({spots:count}): compilados para cumplir una exactitud horizontal de {accuracy:accuracy} con 95 % de confianza, respecto de los puntos fijos."},
	AccuracyRecorded: {says: "Puntos solo según el croquis ({spots:count}): sin medir; no se declara más exactitud que la usual de hojas así ({accuracy:accuracy} con 95 %)."},
	NotTested: {says: "Estimado por el ajuste, sin comprobar: el National Standard for Spatial Data Accuracy (FGDC-STD-007.3-1998) pide una comprobación con 20 o más puntos " +
		"de una fuente independiente de mayor exactitud; aquí no los hay."},
}

// betweenLandmarksSpanish settles every wrong scale.
const betweenLandmarksSpanish = "una cinta entre dos puntos fijos lo resolvería"

// nouns are the kinds of parts and the other words that findings name, by their
// English name, which is a code.
var nouns = map[string]noun{
	"building": {"edificio", false}, "landmark": {"punto fijo", false}, "tank": {"tanque", false}, "box": {"caja", true},
	"header": {"tubo de distribución", false}, "lateral": {"zanja", true}, "port": {"registro", false}, "well": {"pozo de agua", false},
	"boundary": {"lindero", false}, "water": {"agua", false}, "driveway": {"entrada de autos", true}, "utility": {"línea de servicios", true},
	"no-dig": {"área de no excavar", false}, "trench": {"zanja", true}, "pipe": {"tubo", false}, "camera": {"cámara", true}, "cable": {"guía", true},

	"crown": {"lomo del tubo", false}, "top": {"parte de arriba", true}, "invert": {"fondo interior del tubo", false}, "bottom": {"fondo", false},

	"trench width": {"ancho de zanja", false}, "chamber width": {"ancho de cámara", false}, "lateral length": {"largo de zanja", false},
	"chamber row length": {"largo de fila de cámaras", false}, "cover": {"tapado", false}, "cover of a tank or box": {"tapado de tanque o caja", false},
	"lateral grade": {"pendiente de zanja", true}, "side of a box": {"lado de caja", false}, "laterals centre to centre": {"zanjas de centro a centro", true},

	"too many iterations": {"demasiadas iteraciones", true}, "no step descends": {"ningún paso mejora", false},
}

// noun is a Spanish noun and whether it takes la.
type noun struct {
	name string
	la   bool
}

// articles stand before a noun in each form: with el, with la, and before an id.
var articles = map[string][3]string{"the": {"el ", "la "}, "of": {"del ", "de la ", "de "}, "to": {"al ", "a la ", "a "}, "a": {"un ", "una "}}

// put returns a word in a form. An id takes no article, and no form leaves a
// word as it is.
func put(word, form string) string {
	n, known := nouns[word]
	switch {
	case form == "":
		return word
	case !known:
		return articles[form][2] + word
	case n.la:
		return articles[form][1] + n.name
	}
	return articles[form][0] + n.name
}
