package web

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"runtime"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An archive of very many files is refused before its list of them is read, whatever
// it says of their number.
func TestFilesOfAnArchiveAreCountedFirst(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	const many = 300_000
	for i := range many {
		_, err := z.CreateRaw(&zip.FileHeader{Name: strconv.Itoa(i)})
		require.NoError(t, err)
	}
	require.NoError(t, z.Close())
	whole := b.Bytes()
	lying := bytes.Clone(whole)
	end := lying[len(lying)-22:]
	from := bytes.Index(lying, []byte("PK\x01\x02"))
	binary.LittleEndian.PutUint16(end[10:], many%65536%1000) // archive/zip would notice only at the end of the list
	binary.LittleEndian.PutUint32(end[12:], 46)
	binary.LittleEndian.PutUint32(end[16:], uint32(from))
	for name, archive := range map[string][]byte{"honest": whole, "lying": lying} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := unpack(bytes.NewReader(archive), int64(len(archive)))
		runtime.ReadMemStats(&after)
		require.Error(t, err, name)
		assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(1<<20), "%s: bytes", name)
	}
}
