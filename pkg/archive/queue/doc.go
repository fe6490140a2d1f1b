// Package queue has the photos of an archive scored again, by workers on any number of machines.
//
// The tasks lie in the archive's own database (River's tables), one a photo. A worker writes a result and ends its task
// in one transaction, so that whatever dies at whatever moment, a result is written once and no photo is lost: a task
// whose worker died is handed out again after a while, and a result that is there already stands. A task that failed is
// tried again, later each time; one that failed for good is kept and shown.
package queue
