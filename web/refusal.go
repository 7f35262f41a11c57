package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"

	"asfound/asbuilt"
	"asfound/survey/answer"
	"asfound/web/access"
	"asfound/web/api"
	"asfound/web/logbook"
)

// errGone says that the client has left: nobody reads an answer.
var errGone = refuse(499, "the request was ended") // a status that servers log for this; none is registered

// refusal is an error with the status that it is answered with.
type refusal struct {
	answer.Refusal
	status int
}

func (r *refusal) Error() string { return r.Refusal.Error() }

func refuse(status int, format string, args ...any) error {
	return &refusal{answer.Refusal{Says: fmt.Sprintf(format, args...)}, status}
}

// unreadable returns why a body could not be read.
func unreadable(err error) error {
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return refuse(http.StatusRequestEntityTooLarge, "at most %d bytes are accepted here", large.Limit)
	case errors.Is(err, os.ErrDeadlineExceeded):
		return refuse(http.StatusRequestTimeout, "this came in too slowly; try again with better coverage")
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return refuse(http.StatusBadRequest, "the body ends too early")
	}
	return refuse(http.StatusBadRequest, "the body is malformed: %v", err)
}

// statusOf returns the status of an error and its text. Internal errors are not
// shown to the client.
func statusOf(err error) (int, answer.Refusal) {
	var r *refusal
	var stage *answer.Refusal
	var problems asbuilt.Problems
	switch {
	case errors.As(err, &r):
		return r.status, r.Refusal
	case errors.As(err, &stage):
		return http.StatusBadRequest, *stage
	case errors.As(err, &problems):
		return http.StatusBadRequest, answer.Refusal{Says: "the job folder has problems", Problems: api.ProblemsOf(problems)}
	case errors.Is(err, access.ErrUnknown), errors.Is(err, access.ErrUsed), errors.Is(err, access.ErrExpired), errors.Is(err, access.ErrRevoked):
		return http.StatusUnauthorized, answer.Refusal{Says: err.Error()}
	case errors.Is(err, logbook.ErrDamaged):
		return http.StatusServiceUnavailable, answer.Refusal{Says: "the store of this server is damaged: what you send is not kept here; keep it on the phone, and tell whoever runs the server"}
	case errors.Is(err, fs.ErrNotExist):
		return http.StatusNotFound, answer.Refusal{Says: "there is no such thing here"}
	case errors.Is(err, logbook.ErrSum):
		return http.StatusBadRequest, answer.Refusal{Says: err.Error()}
	case errors.Is(err, logbook.ErrFull):
		return http.StatusInsufficientStorage, answer.Refusal{Says: "the server is out of room; what was acknowledged before is safe"}
	case errors.Is(err, logbook.ErrLarge):
		return http.StatusRequestEntityTooLarge, answer.Refusal{Says: err.Error()}
	}
	var large *http.MaxBytesError
	if errors.As(err, &large) || errors.Is(err, os.ErrDeadlineExceeded) {
		return statusOf(unreadable(err))
	}
	return http.StatusInternalServerError, answer.Refusal{Says: "the server could not do this; what was acknowledged before is safe"}
}

// fail answers with an error.
func fail(w http.ResponseWriter, err error) {
	status, says := statusOf(err)
	h := w.Header()
	for _, name := range []string{"Content-Encoding", "Content-Disposition", "Etag"} {
		h.Del(name)
	}
	h.Set("Cache-Control", "no-store")
	if status == http.StatusRequestTimeout || status == http.StatusRequestEntityTooLarge {
		h.Set("Connection", "close") // do not wait for the rest of the body
	}
	_ = write(w, status, says) // the client is gone: nobody to tell
}

// write writes v as JSON.
func write(w http.ResponseWriter, status int, v any) error {
	text, err := json.Marshal(v)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", JSON)
	w.WriteHeader(status)
	_, _ = w.Write(append(text, '\n')) // the client is gone: nobody to tell
	return nil
}
