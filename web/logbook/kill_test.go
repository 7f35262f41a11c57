package logbook_test

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"asfound/testdata/long"
	"asfound/web/entry"
	"asfound/web/logbook"
)

// childFile names the logbook in the environment of a child, childRound the
// number from which it makes ids.
const (
	childFile  = "ASFOUND_LOGBOOK_CHILD"
	childRound = "ASFOUND_LOGBOOK_ROUND"
)

// phones is how many send to a child at one time; a round makes at most
// perRound entries of each.
const (
	phones   = 4
	perRound = 1 << 10
)

func TestMain(m *testing.M) {
	if path := os.Getenv(childFile); path != "" {
		child(path)
	}
	os.Exit(m.Run())
}

// child sends until it is killed, and prints the id of each entry once it has
// been acknowledged: a line is written in one call, so that a line that arrives
// means an acknowledgement that was given.
func child(path string) {
	round, err := strconv.Atoi(os.Getenv(childRound))
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	b, err := logbook.Open(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Println("open")
	var wg sync.WaitGroup
	for phone := range phones {
		wg.Go(func() {
			for n := range perRound / 4 {
				first := (round*phones+phone)*perRound + 4*n
				var entries []entry.Entry
				for i := range 1 + n%4 {
					entries = append(entries, level(first+i, lot))
				}
				accepted, err := b.Append(context.Background(), entries)
				if err != nil {
					fmt.Fprintln(os.Stderr, err)
					os.Exit(1)
				}
				fmt.Println(strings.Join(accepted, " "))
			}
		})
	}
	wg.Go(func() {
		for n := range perRound / 4 {
			data := photo(round, n)
			if err := b.PutFile(context.Background(), sumOf(data), strings.NewReader(data)); err != nil {
				fmt.Fprintln(os.Stderr, err)
				os.Exit(1)
			}
			fmt.Println(sumOf(data))
		}
	})
	wg.Wait()
	time.Sleep(time.Minute) // to be killed
	os.Exit(0)
}

// photo returns the bytes of the nth file of a round: up to four pieces.
func photo(round, n int) string {
	return strings.Repeat(fmt.Sprintf("photo %d of round %d. ", n, round), 1+n%4*12_000)
}

// A process killed at any moment loses no entry and no file that it had acknowledged, keeps
// every batch whole or not at all, and starts again with a sound file.
//
// SIGKILL leaves the system running, so this tests the order of writes, not
// whether the disk was told to sync: TestSyncedBeforeAnswered is for that.
func TestKilled(t *testing.T) {
	kills := long.Size(t, 12, 200)
	path := filepath.Join(t.TempDir(), "killed.db")
	dice := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 0)) // the moment is random anyway
	answered := map[string]bool{}
	during := 0 // kills that came while something was being sent
	for round := range kills {
		before := maps.Clone(answered)
		run(t, path, round, time.Duration(dice.IntN(60_000))*time.Microsecond, answered)
		if len(answered) > len(before) {
			during++
		}
		held := map[string]bool{}
		b, err := logbook.Open(path)
		require.NoError(t, err, "round %d", round)
		// All that was acknowledged in this round and, since rows are never
		// removed, the count of all before.
		rows, err := b.DB().Query(`SELECT id FROM entries`)
		require.NoError(t, err)
		for rows.Next() {
			var id string
			require.NoError(t, rows.Scan(&id))
			held[id] = true
		}
		require.NoError(t, rows.Err())
		require.NoError(t, rows.Close())
		names, err := b.DB().Query(`SELECT sha256 FROM files`)
		require.NoError(t, err)
		files := 0
		for names.Next() {
			var sum string // of a part it is NULL, which fails
			require.NoError(t, names.Scan(&sum))
			held[sum], files = true, files+1
		}
		require.NoError(t, names.Err())
		require.NoError(t, names.Close())
		for id := range answered {
			require.True(t, held[id], "round %d: %s was answered and is lost", round, id)
			if len(id) == 64 && (!before[id] || round == kills-1) {
				f, err := b.File(t.Context(), id)
				require.NoError(t, err)
				data, err := io.ReadAll(f)
				require.NoError(t, err)
				require.Equal(t, id, sumOf(string(data)), "round %d: a file was answered and is not whole", round)
			}
		}
		if round == kills-1 {
			require.NoError(t, b.Check(t.Context()))
			whole(t, b)
			t.Logf("%d kills, %d of them while sending; %d entries and files answered, all there (%d files); %d more written and not answered in time",
				kills, during, len(answered), files, len(held)-len(answered))
		}
		require.NoError(t, b.Close())
	}
	assert.Greater(t, during, kills/2, "the kills come too early to show anything")
}

// run starts a child, kills it some time after it began to send, and records
// what it reported as acknowledged.
func run(t *testing.T, path string, round int, after time.Duration, answered map[string]bool) {
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childFile+"="+path, childRound+"="+strconv.Itoa(round))
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	lines := bufio.NewReader(out)
	begun := false
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			assert.ErrorIs(t, err, io.EOF)
			break // a last line without an end does not count
		}
		if !begun {
			begun = true
			assert.Equal(t, "open\n", line)
			time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
			continue
		}
		for id := range strings.FieldsSeq(line) {
			answered[id] = true
		}
	}
	require.Error(t, cmd.Wait())
	require.Empty(t, complaint.String(), "the child failed by itself")
	require.True(t, begun)
}

// whole checks that every batch is complete: the nth of a phone has 1+n%4
// entries, with consecutive numbers.
func whole(t *testing.T, b *logbook.Store) {
	count := map[int]int{}
	for _, e := range all(t, b, lot) {
		var n int
		_, err := fmt.Sscanf(string(e.Body), `{"kind": "level", "point": "P%d"`, &n)
		require.NoError(t, err)
		count[n/4]++
	}
	for sending, got := range count {
		require.Equal(t, 1+sending%4, got, "sending %d", sending)
	}
}
