-- What a way of cleaning took off an engine, summed up over the cylinders that had grade 2 or more before, when the
-- inspection is written: the statistics read one row an engine and method, four times fewer than there are cylinders.

CREATE TABLE cleaning (
    shop TEXT NOT NULL DEFAULT {shop},
    inspection BIGINT NOT NULL,
    method TEXT NOT NULL,    -- in small letters
    cylinders BIGINT NOT NULL,
    was DOUBLE PRECISION NOT NULL, -- deposit index before the cleaning, and by how much less it is after it
    gone DOUBLE PRECISION NOT NULL,
    was_dark DOUBLE PRECISION, -- the same of dark deposit
    gone_dark DOUBLE PRECISION,
    PRIMARY KEY (inspection, method),
    FOREIGN KEY (shop, inspection) REFERENCES inspection (shop, id) ON DELETE CASCADE
);
INSERT INTO cleaning (shop, inspection, method, cylinders, was, gone, was_dark, gone_dark)
    SELECT shop, inspection, LOWER(method), COUNT(*), SUM(was), SUM(was - worst),
        SUM(CASE WHEN dark IS NOT NULL THEN was_dark END), SUM(was_dark - dark)
    FROM cylinder WHERE was >= 15 AND worst IS NOT NULL GROUP BY shop, inspection, LOWER(method);
DROP INDEX cylinder_told;
