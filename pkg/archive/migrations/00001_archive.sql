-- One set of statements for SQLite and PostgreSQL. {id} is a key that the database hands out, {shop} the login whose row
-- it is, {exact} compares texts by their bytes. Days are YYYY-MM-DD and moments RFC 3339 in UTC, as texts; what was not
-- measured is NULL.

CREATE TABLE kept_by (
    version BIGINT NOT NULL, -- of this set of tables
    program TEXT NOT NULL    -- the version of the program that is needed for it
);

-- Versions of program and net.
CREATE TABLE version (
    id {id},
    name TEXT NOT NULL UNIQUE
);

CREATE TABLE vehicle (
    id {id},
    shop TEXT NOT NULL DEFAULT {shop},
    reference TEXT,          -- the shop's own name; NULL once forgotten, as are plate and vin
    plain TEXT,              -- the same without blanks and capitals
    plate TEXT,
    vin TEXT,
    vin_check TEXT NOT NULL DEFAULT '', -- good, wrong, or '' where there is no VIN
    family TEXT NOT NULL DEFAULT '',
    cylinders BIGINT NOT NULL,
    valves BIGINT NOT NULL,
    UNIQUE (shop, id),
    UNIQUE (shop, plain)
);

CREATE TABLE inspection (
    id {id},
    shop TEXT NOT NULL DEFAULT {shop},
    vehicle BIGINT NOT NULL,
    day TEXT,                -- NULL once forgotten: the year is kept
    year BIGINT NOT NULL,
    stage TEXT NOT NULL,
    odometer DOUBLE PRECISION NOT NULL,
    unit TEXT NOT NULL,
    km BIGINT NOT NULL,      -- whole kilometres; whole thousands once forgotten
    technician TEXT NOT NULL DEFAULT '',
    job TEXT NOT NULL DEFAULT '',
    wish TEXT NOT NULL DEFAULT '',
    notes TEXT NOT NULL DEFAULT '',
    banks TEXT NOT NULL DEFAULT '', -- the rows of a V engine, as JSON
    source TEXT NOT NULL DEFAULT '', -- where it was added from
    content TEXT NOT NULL,   -- hash of the facts and photos: the same again changes nothing
    marked TEXT NOT NULL,    -- hash of the outlines set by hand
    version BIGINT REFERENCES version (id), -- whose results count
    prior BIGINT,            -- for a cleaned engine, the inspection before the cleaning
    -- What the counting results say together.
    worst DOUBLE PRECISION,  -- deposit index of the worst cylinder, its interval and grade
    worst_low DOUBLE PRECISION,
    worst_high DOUBLE PRECISION,
    grade BIGINT,
    dark DOUBLE PRECISION,   -- percent of readable pixels with crust, mean over the photos
    due DOUBLE PRECISION,    -- the highest probability that cleaning is due
    photos BIGINT NOT NULL,
    refused BIGINT NOT NULL,
    seen BIGINT NOT NULL,    -- valves photographed
    retaken BIGINT NOT NULL, -- of them those with more photos than one
    added TEXT NOT NULL,
    UNIQUE (shop, id),
    UNIQUE (shop, vehicle, day, stage, km),
    FOREIGN KEY (shop, vehicle) REFERENCES vehicle (shop, id)
);
CREATE INDEX inspection_of ON inspection (vehicle, day);

CREATE TABLE cylinder (
    shop TEXT NOT NULL DEFAULT {shop},
    inspection BIGINT NOT NULL,
    cylinder BIGINT NOT NULL,
    method TEXT NOT NULL DEFAULT '',
    worst DOUBLE PRECISION,  -- deposit index of the worst valve
    dark DOUBLE PRECISION,
    was DOUBLE PRECISION,    -- both before the cleaning
    was_dark DOUBLE PRECISION,
    PRIMARY KEY (inspection, cylinder),
    FOREIGN KEY (shop, inspection) REFERENCES inspection (shop, id) ON DELETE CASCADE
);
CREATE INDEX cylinder_cleaned ON cylinder (method, inspection) WHERE was IS NOT NULL;

CREATE TABLE photo (
    id {id},
    shop TEXT NOT NULL DEFAULT {shop},
    hash TEXT,               -- SHA-256 of the bytes; NULL where not known, and once forgotten
    bytes BIGINT,            -- NULL where the photo is not in the store
    UNIQUE (shop, id),
    UNIQUE (shop, hash)
);

-- Outlines set by hand, as the file beside the photo says them.
CREATE TABLE marks (
    shop TEXT NOT NULL DEFAULT {shop},
    hash TEXT NOT NULL,
    yaml TEXT NOT NULL,
    PRIMARY KEY (shop, hash)
);

-- A photo and a valve that it is listed for.
CREATE TABLE shot (
    shop TEXT NOT NULL DEFAULT {shop},
    inspection BIGINT NOT NULL,
    place BIGINT NOT NULL,   -- counted from 1
    photo BIGINT NOT NULL,
    file TEXT NOT NULL,
    cylinder BIGINT NOT NULL,
    valve BIGINT NOT NULL,
    from_left BIGINT NOT NULL,
    marks TEXT NOT NULL DEFAULT '',
    left_out_by TEXT NOT NULL DEFAULT '', -- who decided that it does not count, and why
    left_out_why TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (inspection, place),
    FOREIGN KEY (shop, inspection) REFERENCES inspection (shop, id) ON DELETE CASCADE,
    FOREIGN KEY (shop, photo) REFERENCES photo (shop, id)
);
CREATE INDEX shot_of ON shot (photo);

-- What a version says of a valve in a photo: written once, never changed.
CREATE TABLE result (
    shop TEXT NOT NULL DEFAULT {shop},
    photo BIGINT NOT NULL,
    version BIGINT NOT NULL REFERENCES version (id),
    marks TEXT NOT NULL,
    valve BIGINT NOT NULL,   -- from left to right, of so many
    valves BIGINT NOT NULL,
    status TEXT NOT NULL,
    grade BIGINT,
    worth DOUBLE PRECISION,  -- deposit index and its interval
    worth_low DOUBLE PRECISION,
    worth_high DOUBLE PRECISION,
    dark DOUBLE PRECISION,
    due DOUBLE PRECISION,
    record {bytes},          -- all of it: JSON, compressed with zstd; NULL once forgotten
    made TEXT NOT NULL,
    PRIMARY KEY (photo, version, marks, valve),
    FOREIGN KEY (shop, photo) REFERENCES photo (shop, id)
);

-- Grades that people put beside the measured ones.
CREATE TABLE overruled (
    id {id},
    shop TEXT NOT NULL DEFAULT {shop},
    inspection BIGINT NOT NULL,
    cylinder BIGINT NOT NULL,
    valve BIGINT NOT NULL,
    measured BIGINT,
    grade BIGINT NOT NULL,
    who TEXT NOT NULL,
    why TEXT NOT NULL,
    noted TEXT NOT NULL,
    FOREIGN KEY (shop, inspection) REFERENCES inspection (shop, id) ON DELETE CASCADE
);
CREATE INDEX overruled_of ON overruled (inspection);

-- Words to find by, and each of them with one letter left out, hashed: two words that differ by one slip share one.
CREATE TABLE word (
    id {id},
    shop TEXT NOT NULL DEFAULT {shop},
    word TEXT {exact} NOT NULL,
    UNIQUE (shop, word),
    UNIQUE (shop, id)
);
CREATE INDEX word_begins ON word (word);
CREATE TABLE near (
    shop TEXT NOT NULL DEFAULT {shop},
    gap BIGINT NOT NULL,
    word BIGINT NOT NULL,
    PRIMARY KEY (gap, word),
    FOREIGN KEY (shop, word) REFERENCES word (shop, id) ON DELETE CASCADE
);
CREATE INDEX near_of ON near (word);
CREATE TABLE mention (
    shop TEXT NOT NULL DEFAULT {shop},
    word BIGINT NOT NULL,
    vehicle BIGINT NOT NULL,
    inspection BIGINT NOT NULL, -- 0 for a word of the vehicle itself
    said TEXT NOT NULL,      -- plate, vin, name, job, wish
    PRIMARY KEY (word, vehicle, inspection, said),
    FOREIGN KEY (shop, word) REFERENCES word (shop, id),
    FOREIGN KEY (shop, vehicle) REFERENCES vehicle (shop, id)
);
CREATE INDEX mention_of ON mention (vehicle, inspection);
