package catalogue_test

import (
	"fmt"
	"log"

	"hedgerow/trials/catalogue"
)

func ExampleCatalogue_Lookup() {
	c, err := catalogue.Load()
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range c.Lookup("ginger") {
		fmt.Println(m.Key)
	}
	fmt.Println(c.Lookup("corriander"), c.Suggest("corriander"))
	// Output:
	// ginger-dried
	// ginger-fresh
	// [] [coriander-seed]
}

// The figures are those of NDB 11216 of the USDA table.
func ExampleCatalogue_DefaultMoisture() {
	c, err := catalogue.Load()
	if err != nil {
		log.Fatal(err)
	}
	ginger, _ := c.Get("ginger-fresh")
	share, source, ok := c.DefaultMoisture(ginger, "fresh")
	fmt.Printf("%.2f %% water, %s, %v\n", share*100, source, ok)
	// Output: 78.89 % water, SR26:11216, true
}

// Sassafras is forbidden in US food as a source of safrole (21 CFR 189.180).
func ExampleCatalogue_NoDose() {
	c, err := catalogue.Load()
	if err != nil {
		log.Fatal(err)
	}
	sassafras, _ := c.Get("sassafras")
	if reason, refused := c.NoDose(sassafras); refused {
		fmt.Println(reason.Level, reason.HazardCode)
	}
	// Output: stop safrole
}
