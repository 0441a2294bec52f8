package exports

import _ "embed"

// ReportSchema is the JSON Schema (2020-12) of the report's JSON, whose version is
// that of ReportFormat. It is made from ReportDocument, the types in it and their
// comments:
//
//	go test ./exports -run Schema -update
//
//go:embed report.schema.json
var ReportSchema string
