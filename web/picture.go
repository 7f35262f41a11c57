package web

import (
	"fmt"
	"strings"

	"rsc.io/qr"
)

// quiet is the width of the empty border about a QR code in modules, as
// ISO/IEC 18004 asks for (from memory: 4).
const quiet = 4

// picture returns a QR code of text as SVG. It is black on white whatever the
// page's colours: cameras reliably read nothing else.
func picture(text string) (string, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	size := code.Size + 2*quiet
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" shape-rendering="crispEdges" role="img" aria-label="QR code of the link">`, size, size)
	fmt.Fprintf(&b, `<path fill="#fff" d="M0 0h%dv%dH0z"/><path d="`, size, size)
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			begin := x
			for code.Black(x, y) { // white beyond the edge
				x++
			}
			if x > begin {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%dz", begin+quiet, y+quiet, x-begin, x-begin)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return b.String(), nil
}
