package strict

import (
	"encoding/json"
	"reflect"

	"github.com/invopop/jsonschema"
)

// Schema returns the JSON Schema (draft 2020-12) of the document format that Decode reads into a value
// of this type, so that editors can complete and check a file while it is written.
func Schema(target any, title string) []byte {
	reflector := jsonschema.Reflector{
		Anonymous:                 true,
		ExpandedStruct:            true,
		AllowAdditionalProperties: false,
		Mapper:                    mapType,
	}
	schema := reflector.ReflectFromType(reflect.TypeOf(target))
	schema.Title = title
	text, err := json.MarshalIndent(schema, "", "  ")
	if err != nil {
		panic("strict: schema cannot be written: " + err.Error())
	}
	return append(text, '\n')
}

// mapType gives the schema of the types that stand for plain texts or free values.
func mapType(t reflect.Type) *jsonschema.Schema {
	switch t {
	case measureType:
		return &jsonschema.Schema{
			Type:        "string",
			Pattern:     `^\s*-?[0-9½¼¾⅛⅜⅝⅞./ '"′″-]+\s*(mm|cm|m|in|inch|inches|ft|foot|feet|"|″|'|′)?\.?\s*([0-9./ -]+("|″|in))?\s*$`,
			Description: `A length with its unit: 18 mm, 1.2 m, 3/4 in, 1 1/2", 2' 3".`,
		}
	case valueType:
		return &jsonschema.Schema{}
	}
	return nil
}
