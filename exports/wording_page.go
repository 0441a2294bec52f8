package exports

import "tautline/analysis"

// CautionText words one specific caution, as every export does: why it is said
// here, and what to mind.
func CautionText(c analysis.Caution) string { return cautionWords(c) }
