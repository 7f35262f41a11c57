package finding

import "asfound/geo/language"

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

	"part": {"parte", true}, "start": {"extremo cercano", false}, "end": {"extremo lejano", false}, "center": {"centro", false}, "edge": {"borde", false}, "corner": {"esquina", true},
	"seen": {"se vio", false}, "inferred": {"se deduce", false}, "recorded": {"croquis", false},

	"January": {"enero", false}, "February": {"febrero", false}, "March": {"marzo", false}, "April": {"abril", false}, "May": {"mayo", false}, "June": {"junio", false},
	"July": {"julio", false}, "August": {"agosto", false}, "September": {"septiembre", false}, "October": {"octubre", false}, "November": {"noviembre", false}, "December": {"diciembre", false},

	"too many iterations": {"demasiadas iteraciones", true}, "no step descends": {"ningún paso mejora", false},
}

// noun is a Spanish noun and whether it takes la.
type noun struct {
	name string
	la   bool
}

// articles stand before a noun in each form: with el, with la, and before an id.
var articles = map[string][3]string{"the": {"el ", "la "}, "of": {"del ", "de la ", "de "}, "to": {"al ", "a la ", "a "}, "a": {"un ", "una "}}

// Name returns a word that is a code, such as a kind or a spot, for a reader; one
// that is not known as it is.
func (r Reader) Name(word string) string {
	if r.Language == language.Spanish {
		return put(word, "name")
	}
	return word
}

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
