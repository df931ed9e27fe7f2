package store

import (
	"context"
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write schema.sum anew")

// The digest that every opening compares with is that of what the migrations
// make. After one was added: go test ./trials/store -run TestSchemaSum -update
func TestSchemaSum(t *testing.T) {
	made, err := reference(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("schema.sum", []byte(sumOf(made)+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if len(made) < 80 || sumOf(made) != strings.TrimSpace(schemaSum) {
		t.Errorf("%d objects with digest %s, schema.sum says %s: run this test with -update",
			len(made), sumOf(made), schemaSum)
	}
}
