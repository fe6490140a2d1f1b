package score

import (
	"slices"

	"valvegrade/pkg/reason"
)

// merge joins the reasons of all rooms in the order of the table, each code once. Where one of them refuses the photo,
// only those that refuse are kept: the others speak of a grade, and there is none; a valve that is not there is not too
// small either. Where two rooms found the same, the sentence that carries this photo's own figures wins over the
// table's.
func merge(lists ...[]reason.Reason) []reason.Reason {
	all := slices.Concat(lists...)
	refused := reason.Refuses(all)
	if slices.ContainsFunc(all, func(r reason.Reason) bool { return r.Code == reason.NoValve }) {
		all = slices.DeleteFunc(all, func(r reason.Reason) bool { return r.Code == reason.ValveTooSmall })
	}
	var merged []reason.Reason
	for _, entry := range reason.Table() {
		if refused && !entry.Refuses {
			continue
		}
		var found *reason.Reason
		for i := range all {
			if all[i].Code == entry.Code && (found == nil || found.Advice == reason.Of(entry.Code).Advice) {
				found = &all[i]
			}
		}
		if found != nil {
			merged = append(merged, *found)
		}
	}
	return merged
}
