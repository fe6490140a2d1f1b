// Package archive is the shop's memory: vehicles, their inspections, photos, results and what people overruled, in one
// database that is found again after years.
//
// The database is SQLite, one file that needs no set-up, or PostgreSQL for several machines or shops; one set of
// statements serves both. Photos lie beside it by the hash of their bytes (package store), each once and never changed,
// and are held against their hash on reading. Results stand beside each other by version of program and net, each
// written once; an inspection says which version counts.
//
// In PostgreSQL every login of its own is a shop of its own: row-level security shows a shop its rows alone, the owner
// of the tables (the head office) sees all. A file of SQLite is one shop.
//
// An Archive may be used by several goroutines, and a database by several programs at the same time.
package archive
