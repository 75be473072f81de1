package pdf

import (
	"bytes"
	"fmt"
	"regexp"
	"strconv"
)

var (
	trailerRoot = regexp.MustCompile(`/Root (\d+) 0 R`)
	trailerInfo = regexp.MustCompile(`/Info (\d+) 0 R`)
	trailerSize = regexp.MustCompile(`/Size (\d+)`)
	startOffset = regexp.MustCompile(`startxref\n(\d+)\n`)
)

// withViewerPreferences appends a second version of the catalogue object to a finished file, as an
// incremental update: the viewer shows the title of the document and, with exact set, is asked to
// print without scaling. It is a request only, so templates also carry check bars. It panics on a
// file that fpdf did not write.
//
// Source: ISO 32000-1:2008 sections 7.5.6 (incremental updates) and 12.2 (viewer preferences), from
// memory.
func withViewerPreferences(file []byte, exact bool) []byte {
	tail := file[bytes.LastIndex(file, []byte("trailer")):]
	root, size := number(trailerRoot, tail), number(trailerSize, tail)
	begin := bytes.LastIndex(file, []byte(fmt.Sprintf("\n%d 0 obj\n", root))) + 1
	length := bytes.Index(file[begin:], []byte("endobj"))
	object := file[begin : begin+length]
	end := bytes.LastIndex(object, []byte(">>"))
	preferences := "/ViewerPreferences <</DisplayDocTitle true"
	if exact {
		preferences += " /PrintScaling /None /PickTrayByPDFSize true"
	}
	out := bytes.NewBuffer(bytes.Clone(file))
	if file[len(file)-1] != '\n' {
		out.WriteByte('\n')
	}
	at := out.Len()
	fmt.Fprintf(out, "%s%s>>\n>>\nendobj\n", object[:end], preferences)
	table := out.Len()
	fmt.Fprintf(out, "xref\n%d 1\n%010d 00000 n \n", root, at)
	fmt.Fprintf(out, "trailer\n<<\n/Size %d\n/Root %d 0 R\n/Info %d 0 R\n/Prev %d\n>>\nstartxref\n%d\n%%%%EOF\n",
		size, root, number(trailerInfo, tail), number(startOffset, tail), table)
	return out.Bytes()
}

func number(pattern *regexp.Regexp, in []byte) int {
	m := pattern.FindSubmatch(in)
	if m == nil {
		panic("pdf: no " + pattern.String() + " in the file")
	}
	n, err := strconv.Atoi(string(m[1]))
	if err != nil {
		panic("pdf: bad number in the file: " + err.Error())
	}
	return n
}
