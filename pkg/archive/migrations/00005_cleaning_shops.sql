-- PostgreSQL only: a shop sees its own, as of the other tables.

ALTER TABLE cleaning ENABLE ROW LEVEL SECURITY;
CREATE POLICY own ON cleaning USING (shop = current_user) WITH CHECK (shop = current_user);
DO $$ BEGIN
    IF EXISTS (SELECT FROM pg_roles WHERE rolname = 'valvegrade_shop') THEN
        GRANT SELECT, INSERT, UPDATE, DELETE ON cleaning TO valvegrade_shop;
    END IF;
END $$;
