// Package pdf writes a report for paper: the same content as the page, in the same order, on A4 or Letter.
//
// Write is the flow: the parts of the report become blocks, blocks are laid out on pages, pages are drawn. A block
// knows its height before anything is drawn, so that a valve stays on one page, a heading stays with what follows, and
// every page knows how many there are.
//
// Text can be selected and searched. It is set in Liberation Sans, and in DejaVu Sans Condensed where that has no
// letter: between them Latin, Greek, Cyrillic, Hebrew, Arabic, Armenian, Georgian and more. Words written from right to
// left are put in order and Arabic letters are joined. A character that neither font has is written as "?", and the
// report says so: Chinese, Japanese, Korean and Indian scripts among them. The structure of the text is not tagged for
// screen readers; the page is, and is the better choice for them.
//
// The same model gives the same bytes: the dates of the document are the day of the report.
package pdf
