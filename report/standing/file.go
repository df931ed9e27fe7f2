package standing

import (
	"fmt"

	"hedgerow/report/document"
)

// NotebookFile is where the notebook is.
type NotebookFile struct {
	Path  string `json:"path"`       // as it was given or worked out
	By    string `json:"settled_by"` // --db, HEDGEROW_DB or data folder
	Bytes *int64 `json:"bytes"`      // its size; null where there is none yet
}

// Words tells the size of the file and what settled where it is.
func (f NotebookFile) Words() string {
	size := "there is none yet; the first command that writes makes it"
	if f.Bytes != nil {
		size = sizeText(*f.Bytes)
	}
	if f.By == "data folder" {
		return size + "; in your data folder, --db or HEDGEROW_DB names another"
	}
	return size + "; named by " + f.By
}

// line is where the file is and how large.
func (f NotebookFile) line() string {
	if f.Bytes == nil {
		return "Notebook: " + f.Path + ", not made yet"
	}
	return "Notebook: " + f.Path + ", " + sizeText(*f.Bytes)
}

// sizeText prints a number of bytes as people say it.
func sizeText(bytes int64) string {
	const k = 1000
	if bytes < k*k {
		return fmt.Sprintf("%d kB", max(1, (bytes+k/2)/k))
	}
	return document.Fixed(float64(bytes)/(k*k), 1) + " MB"
}
