package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// fileHead is what a file says of itself before SQLite may touch it.
type fileHead struct {
	missing bool // there is no file
	blank   bool // empty, or a SQLite file without any table
	current bool // ours and of the version of this program, with nothing waiting in a log
	locked  bool // the file itself cannot be written
	logged  bool // a write-ahead log stands beside it
}

// The places in the head of a SQLite file, and in a write-ahead log, are those of
// the SQLite file format, sections 1.3, 1.6 and 4.1.
const (
	headSize        = 100
	headVersion     = 60 // user version
	headApplication = 68 // application id
	pageKind        = headSize
	pageCells       = headSize + 3
	leafOfTable     = 0x0d
)

// realPath is the file behind a path: absolute, links followed, also where the
// last link leads to nothing yet.
func realPath(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	const mostLinks = 40
	for range mostLinks {
		real, err := filepath.EvalSymlinks(abs)
		if err == nil {
			return real, nil
		}
		to, linkErr := os.Readlink(abs)
		if linkErr != nil {
			return abs, nil // no link; what is wrong with it shows when it is looked at
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(abs), to)
		}
		abs = to
	}
	return "", errors.New("the links go round in a circle")
}

// inspect looks at a file without SQLite and refuses one that is not ours. With a
// write-ahead log beside it the head of the file may be old: then SQLite is asked
// after opening.
func inspect(path string) (fileHead, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fileHead{missing: true}, nil
	case err != nil:
		return fileHead{}, unreadable(path, err)
	case !info.Mode().IsRegular(): // opening a pipe would wait for its other end
		return fileHead{}, foreign(path)
	}
	h := fileHead{logged: nonEmpty(path + "-wal")}
	// asked for writing and never written to: only the system knows who may
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		h.locked = true
		if f, err = os.Open(path); err != nil {
			return fileHead{}, unreadable(path, err)
		}
	}
	defer f.Close()
	head := make([]byte, headSize+8)
	n, err := io.ReadFull(f, head)
	switch {
	case n == 0 && errors.Is(err, io.EOF):
		h.blank = true
		return h, nil
	case err != nil && !errors.Is(err, io.ErrUnexpectedEOF):
		return fileHead{}, unreadable(path, err)
	case n < len(head) || !bytes.HasPrefix(head, []byte("SQLite format 3\x00")):
		return fileHead{}, foreign(path)
	}
	return h, h.read(path, head)
}

// read takes from the first bytes of a SQLite file whose it is.
func (h *fileHead) read(path string, head []byte) error {
	if hasNoTable(head) {
		// What was written first may be in the log alone.
		first := firstPageInLog(path + "-wal")
		if first == nil || hasNoTable(first) {
			h.blank = true
			return nil
		}
		head = first
	}
	if binary.BigEndian.Uint32(head[headApplication:]) != applicationID {
		return foreign(path)
	}
	h.current = !h.logged && !nonEmpty(path+"-journal") && int(binary.BigEndian.Uint32(head[headVersion:])) == Latest()
	return nil
}

// hasNoTable reports whether the first page of a file lists no table and bears
// nobody's mark.
func hasNoTable(page []byte) bool {
	return binary.BigEndian.Uint32(page[headApplication:]) == 0 && page[pageKind] == leafOfTable &&
		binary.BigEndian.Uint16(page[pageCells:]) == 0
}

// firstPageInLog returns the first page as the last whole write in a write-ahead
// log left it; nil if there is none. SQLite is not asked, since it would write to
// a log that may be another program's.
func firstPageInLog(path string) []byte {
	const logHead, frameHead = 32, 24
	log, err := os.ReadFile(path)
	if err != nil || len(log) < logHead {
		return nil
	}
	size := int(binary.BigEndian.Uint32(log[8:]))
	if size < headSize+8 {
		return nil
	}
	var waiting, whole []byte
	for at := logHead; at+frameHead+size <= len(log); at += frameHead + size {
		frame := log[at : at+frameHead]
		if !bytes.Equal(frame[8:16], log[16:24]) {
			break // left from an earlier use of the log
		}
		if binary.BigEndian.Uint32(frame) == 1 {
			waiting = log[at+frameHead:][:size]
		}
		if endOfWrite := binary.BigEndian.Uint32(frame[4:]) != 0; endOfWrite {
			whole = waiting
		}
	}
	return whole
}

// nonEmpty reports whether there is a file with something in it.
func nonEmpty(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Size() > 0
}
