// Package serve shows a bay of inspections as a page: net/http, events by server-sent events, plain modules for the
// browser, embedded. Handlers only translate between requests and package bay.
//
// On the own machine everybody who can reach 127.0.0.1 may use it; on a network only who typed the one-time code. No
// other site's page is let in either way (origin.go, sessions.go), and the page asks nothing of anybody else.
package serve
