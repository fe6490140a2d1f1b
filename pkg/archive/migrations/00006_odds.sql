-- How likely each grade of the worst cylinder is, so that lists say "3, perhaps 4" where everything else does. Programs
-- before wrote none: of their rows lists take it from the results, until Check writes it down (Mend).

ALTER TABLE inspection ADD COLUMN odds TEXT; -- probabilities of the grades 0 to 4, as JSON; NULL where nothing was measured
