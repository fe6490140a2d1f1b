-- What the statistics read, in the order in which they sum it up: they never touch the rows themselves, which are many
-- times as wide and lie scattered over the whole archive. The second has the method twice: PostgreSQL groups by the one,
-- and takes an index for all that it needs only if it has the other.

CREATE INDEX inspection_told ON inspection (shop, vehicle, year, stage, technician, version, grade, km, worst, dark, photos,
    refused, seen, retaken);
CREATE INDEX cylinder_told ON cylinder (shop, inspection, LOWER(method), method, was, worst, was_dark, dark) WHERE was IS NOT NULL;
DROP INDEX cylinder_cleaned;
