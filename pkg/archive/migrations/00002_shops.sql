-- PostgreSQL only: every login that belongs to valvegrade_shop is a shop and sees its own rows; the owner of the tables
-- sees all. A shop never changes or removes what a version of the net has said.

DO $$ BEGIN
    CREATE ROLE valvegrade_shop NOLOGIN;
EXCEPTION WHEN duplicate_object OR unique_violation OR insufficient_privilege THEN NULL;
END $$;

DO $$
DECLARE
    named TEXT;
BEGIN
    FOREACH named IN ARRAY ARRAY['vehicle', 'inspection', 'cylinder', 'photo', 'marks', 'shot', 'overruled', 'word',
        'near', 'mention'] LOOP
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', named);
        EXECUTE format('CREATE POLICY own ON %I USING (shop = current_user) WITH CHECK (shop = current_user)', named);
    END LOOP;
    ALTER TABLE result ENABLE ROW LEVEL SECURITY;
    CREATE POLICY own_read ON result FOR SELECT USING (shop = current_user);
    CREATE POLICY own_write ON result FOR INSERT WITH CHECK (shop = current_user);
    -- Forgetting takes the whole record away; nothing else may be done to it.
    CREATE POLICY own_forget ON result FOR UPDATE USING (shop = current_user)
        WITH CHECK (shop = current_user AND record IS NULL);
    IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'valvegrade_shop') THEN
        FOREACH named IN ARRAY ARRAY['vehicle', 'inspection', 'cylinder', 'photo', 'marks', 'shot', 'overruled', 'word',
            'near', 'mention'] LOOP
            EXECUTE format('GRANT SELECT, INSERT, UPDATE, DELETE ON %I TO valvegrade_shop', named);
        END LOOP;
        GRANT SELECT, INSERT ON result, version TO valvegrade_shop;
        GRANT UPDATE (record) ON result TO valvegrade_shop;
        GRANT SELECT ON kept_by TO valvegrade_shop;
    END IF;
END $$;
