BEGIN TRANSACTION;
CREATE TABLE batch (
        id INTEGER PRIMARY KEY,
        number TEXT NOT NULL UNIQUE,
        mixed_key TEXT NOT NULL,
        mixed_on TEXT NOT NULL,
        recipe TEXT NOT NULL,
        title TEXT NOT NULL,
        made_by TEXT NOT NULL,
        discard_after TEXT,
        bottles INTEGER NOT NULL CHECK (bottles > 0),
        words TEXT NOT NULL,
        data TEXT NOT NULL
    );
INSERT INTO "batch" VALUES(1,'0000-0001-Y','2031-03-14T18:05:00.000000','2031-03-14T18:05:00','plain-fixer','Plain fixer','M. Osei','2032-03-14',2,'0000-0001-y plain fixer plain-fixer m. osei','{"format":1,"answer":{"make":{"mL":500},"bottles":[{"bottle":1,"mL":250},{"bottle":2,"mL":250}]},"volume_mL":"500","recipe":{"document":"title = \"Plain fixer\"\nmakes = \"500 mL\"\nkeeps_part_full = \"2 months\"\n[use]\ncapacity = { amount = 20, of = \"roll\", per = \"1 L\" }\n[[step]]\nadd = \"water\"\namount = \"500 mL\"\n"},"words":{"page":{"use_mark":"HOLD"}}}');
CREATE TABLE bottle (
        batch INTEGER NOT NULL REFERENCES batch (id),
        bottle INTEGER NOT NULL,
        discard_key TEXT,
        discard_after TEXT,
        discarded INTEGER NOT NULL DEFAULT 0,
        PRIMARY KEY (batch, bottle)
    ) WITHOUT ROWID
    ;
INSERT INTO "bottle" VALUES(1,1,'2031-06-02T24:00:00.000000','2031-06-02',0);
INSERT INTO "bottle" VALUES(1,2,'2032-03-14T24:00:00.000000','2032-03-14',1);
CREATE TABLE draft (recipe TEXT PRIMARY KEY, data TEXT NOT NULL);
INSERT INTO "draft" VALUES('pyro-a','{"step":2}');
CREATE TABLE event (
        id TEXT PRIMARY KEY,
        batch INTEGER NOT NULL REFERENCES batch (id),
        bottle INTEGER CHECK (bottle > 0),
        what TEXT NOT NULL,
        at_key TEXT NOT NULL,
        at TEXT NOT NULL,
        done_by TEXT NOT NULL,
        amount_mL TEXT NOT NULL,
        note TEXT NOT NULL,
        discard_after TEXT NOT NULL
    );
INSERT INTO "event" VALUES('a-opened',1,1,'opened','2031-04-01T09:00:00.000000','2031-04-01T09:00:00','R. Lindqvist-Amara','','','');
INSERT INTO "event" VALUES('b-used',1,1,'used','2031-04-02T09:00:00.000000','2031-04-02T09:00:00','','60','for a test','2031-06-02');
INSERT INTO "event" VALUES('c-discarded',1,2,'discarded','2031-04-03T09:00:00.000000','2031-04-03T09:00:00','','','','');
CREATE TABLE migration (
        version INTEGER PRIMARY KEY,
        applied_at TEXT NOT NULL
    );
INSERT INTO "migration" VALUES(1,'2026-11-25T13:22:04+00:00');
CREATE INDEX batch_newest ON batch (mixed_key, number, words);
CREATE INDEX event_of_batch ON event (batch, at_key, id);
CREATE INDEX bottle_standing ON bottle (discard_key) WHERE discarded = 0;
CREATE TRIGGER batch_stays_on_update BEFORE UPDATE ON batch
        BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER batch_stays_on_delete BEFORE DELETE ON batch
        BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER event_stays_on_update BEFORE UPDATE ON event
        BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER event_stays_on_delete BEFORE DELETE ON event
        BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER batch_stays_on_insert BEFORE INSERT ON batch
    WHEN EXISTS (SELECT 1 FROM batch WHERE number = NEW.number OR id = NEW.id)
    BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
CREATE TRIGGER event_stays_on_insert BEFORE INSERT ON event
    WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id)
    BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END;
COMMIT;
