BEGIN TRANSACTION;
CREATE TABLE asset (
  sha256 TEXT PRIMARY KEY,
  kind TEXT NOT NULL,
  coding TEXT NOT NULL,
  data TEXT NOT NULL
);
INSERT INTO "asset" VALUES('0b75f72fb89277d8cef38260decc72cfdb06599868fc4fbad2bf0dfb60d0b387','inputs','text','{"formula":{"rows":[{"inci":"Aqua"},{"inci":"Glycérine ü"}]}}');
INSERT INTO "asset" VALUES('78731cc469cbe1f16e6773f9843977d22b32a8b5fa4bd91b7caf0243434683e1','inputs','text','{"formula":"another"}');
INSERT INTO "asset" VALUES('05c1f57a990dc4b3eb0d7ad774caaa7b7ee005f518a48802bf09637433f127e7','frame','text','{"word":"Aqua","x_mm":1.25}');
INSERT INTO "asset" VALUES('d08eb3acf9f7035bd555f6a776080afe1d4e5ee4f308320b7fe0a7ee7d469ec1','label-text','text','{"blocks":["Aqua"]}');
INSERT INTO "asset" VALUES('40aff2e9d2d8922e47afd4648e6967497158785fbd1da870e7110266bf944880','font','base64','AAECAwQFBgcICQoLDA0ODxAREhMUFRYXGBkaGxwdHh8gISIjJCUmJygpKissLS4vMDEyMzQ1Njc4OTo7PD0+P0BBQkNERUZHSElKS0xNTk9QUVJTVFVWV1hZWltcXV5fYGFiY2RlZmdoaWprbG1ub3BxcnN0dXZ3eHl6e3x9fn+AgYKDhIWGh4iJiouMjY6PkJGSk5SVlpeYmZqbnJ2en6ChoqOkpaanqKmqq6ytrq+wsbKztLW2t7i5uru8vb6/wMHCw8TFxsfIycrLzM3Oz9DR0tPU1dbX2Nna29zd3t/g4eLj5OXm5+jp6uvs7e7v8PHy8/T19vf4+fr7/P3+/w==');
INSERT INTO "asset" VALUES('74561bae95f760d91fe688944b9e81504f84c1e3398514fccaeafc4eb2766e14','inputs','text','{"formula":{"rows":[{"inci":"Aqua"},{"inci":"Linalool"}]}}');
CREATE TABLE event (
  number INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  batch TEXT,
  nth INTEGER,
  once_key TEXT,
  once_step TEXT,
  body TEXT NOT NULL,
  previous TEXT NOT NULL UNIQUE,
  hash TEXT NOT NULL UNIQUE,
  UNIQUE (batch, kind, nth),
  UNIQUE (once_key, once_step)
);
INSERT INTO "event" VALUES(1,'23b7c14c-1e10-44de-b072-ff8d13f746ee','open','260503A31',1,NULL,NULL,'{"at":"2026-05-03T09:00:00+00:00","batch":"260503A31","by":"AB","data":{"code":"260503-A31","code_key":"260503A31","formula_key":"oat-lotion","frozen":"0b75f72fb89277d8cef38260decc72cfdb06599868fc4fbad2bf0dfb60d0b387","key":"ABCDEFGH","made":"2026-05-03","product":"Oat Lotion","size_g":null,"stem":"260503","version":"1"},"format":1,"id":"23b7c14c-1e10-44de-b072-ff8d13f746ee","kind":"open","nth":1,"number":1,"once":null}','0000000000000000000000000000000000000000000000000000000000000000','61fee731ba633718cd0a1462fc4c095786fe23a31541129432381420f1552015');
INSERT INTO "event" VALUES(2,'57d54685-d7f1-41f5-b124-002307023ce7','open','260503B04',1,NULL,NULL,'{"at":"2026-05-03T09:00:00+00:00","batch":"260503B04","by":"AB","data":{"code":"260503-B04","code_key":"260503B04","formula_key":"oat-lotion","frozen":"78731cc469cbe1f16e6773f9843977d22b32a8b5fa4bd91b7caf0243434683e1","key":"ABCDEFGH","made":"2026-05-03","product":"Oat Lotion","size_g":null,"stem":"260503","version":"1"},"format":1,"id":"57d54685-d7f1-41f5-b124-002307023ce7","kind":"open","nth":1,"number":2,"once":null}','61fee731ba633718cd0a1462fc4c095786fe23a31541129432381420f1552015','b3e7aeb9bcdf113eb2a475cb6e79b13e8d6ccff2a3d2c77943a4312504e2e856');
INSERT INTO "event" VALUES(3,'747cc4c6-74a9-485d-852d-e062dcf2bfd5','print','260503A31',1,NULL,NULL,'{"at":"2026-05-03T09:00:00+00:00","batch":"260503A31","by":"AB","data":{"artworks":["back"],"correction":null,"extra":null,"file":"prints/260503-A31-1.pdf","frames":["05c1f57a990dc4b3eb0d7ad774caaa7b7ee005f518a48802bf09637433f127e7"],"labels":24,"languages":["en"],"markets":["UK"],"pack":"","places":[],"printer":null,"reprint_of":null,"reset":false,"sha256":"0000000000000000000000000000000000000000000000000000000000000000","sheets":1,"skip":0,"stock":{"name":"a4-3x8-63.5x33.9"},"text":"d08eb3acf9f7035bd555f6a776080afe1d4e5ee4f308320b7fe0a7ee7d469ec1","why":null,"words":{"date":"11/2027","declaration":"Aqua, Glycerin","warnings":["For external use only."]}},"format":1,"id":"747cc4c6-74a9-485d-852d-e062dcf2bfd5","kind":"print","nth":1,"number":3,"once":null}','b3e7aeb9bcdf113eb2a475cb6e79b13e8d6ccff2a3d2c77943a4312504e2e856','917e555dfdc4fa245da851740a1b2f98f78378c60b3823adfb54695bdada049d');
INSERT INTO "event" VALUES(4,'c5473328-6bb9-427b-8fec-1aeba27c9e6d','note','260503A31',NULL,NULL,NULL,'{"at":"2026-05-03T09:00:00+00:00","batch":"260503A31","by":"AB","data":{"lot":"W-7","text":"thick"},"format":1,"id":"c5473328-6bb9-427b-8fec-1aeba27c9e6d","kind":"note","nth":null,"number":4,"once":null}','917e555dfdc4fa245da851740a1b2f98f78378c60b3823adfb54695bdada049d','4bc079ee53385cc9ee47149d9aeb88df564b73152fb6942e8e2ceb67413cffe8');
INSERT INTO "event" VALUES(5,'1a1089e2-d9e1-45b0-b9ad-206bb5d2330a','print','260503A31',2,NULL,NULL,'{"at":"2026-05-03T09:00:00+00:00","batch":"260503A31","by":"AB","data":{"artworks":["back"],"correction":null,"extra":null,"file":"prints/260503-A31-2.pdf","frames":["05c1f57a990dc4b3eb0d7ad774caaa7b7ee005f518a48802bf09637433f127e7"],"labels":12,"languages":["en"],"markets":["UK"],"pack":"","places":[],"printer":null,"reprint_of":null,"reset":false,"sha256":"0000000000000000000000000000000000000000000000000000000000000000","sheets":1,"skip":0,"stock":{"name":"a4-3x8-63.5x33.9"},"text":"d08eb3acf9f7035bd555f6a776080afe1d4e5ee4f308320b7fe0a7ee7d469ec1","why":null,"words":{"date":"11/2027","declaration":"Aqua, Glycerin","warnings":["For external use only."]}},"format":1,"id":"1a1089e2-d9e1-45b0-b9ad-206bb5d2330a","kind":"print","nth":2,"number":5,"once":null}','4bc079ee53385cc9ee47149d9aeb88df564b73152fb6942e8e2ceb67413cffe8','21524d3c78150a58627d00f966abd900856937b7785230ca929f5170aece8df0');
INSERT INTO "event" VALUES(6,'d708fa04-0d89-4964-aa55-c5bc727a2bb7','state','260503B04',NULL,NULL,NULL,'{"at":"2026-05-03T09:00:00+00:00","batch":"260503B04","by":"AB","data":{"state":"cancelled","why":null},"format":1,"id":"d708fa04-0d89-4964-aa55-c5bc727a2bb7","kind":"state","nth":null,"number":6,"once":null}','21524d3c78150a58627d00f966abd900856937b7785230ca929f5170aece8df0','44a5ae8ca9ae7881b6613b651f20705f8e635c445552e61d6b852afb74987d66');
INSERT INTO "event" VALUES(7,'e4ec86eb-bd97-4939-b1d4-89239e0d6e1a','revise','260503A31',NULL,NULL,NULL,'{"at":"2026-05-03T09:00:00+00:00","batch":"260503A31","by":"AB","data":{"frozen":"74561bae95f760d91fe688944b9e81504f84c1e3398514fccaeafc4eb2766e14","why":"more"},"format":1,"id":"e4ec86eb-bd97-4939-b1d4-89239e0d6e1a","kind":"revise","nth":null,"number":7,"once":null}','44a5ae8ca9ae7881b6613b651f20705f8e635c445552e61d6b852afb74987d66','14c16b55f13107448799254f77a6ebeb9bfc45156a8763f6442239a6beaebd84');
CREATE TABLE opened (
  code_key TEXT PRIMARY KEY,
  code TEXT NOT NULL,
  stem TEXT NOT NULL,
  formula TEXT NOT NULL,
  made TEXT NOT NULL,
  event INTEGER NOT NULL UNIQUE
);
INSERT INTO "opened" VALUES('260503A31','260503-A31','260503','oat-lotion','2026-05-03',1);
INSERT INTO "opened" VALUES('260503B04','260503-B04','260503','oat-lotion','2026-05-03',2);
CREATE TABLE record (name TEXT PRIMARY KEY, value TEXT NOT NULL);
INSERT INTO "record" VALUES('format','1');
CREATE INDEX event_batch ON event (batch, number);
CREATE INDEX event_kind ON event (kind, number);
CREATE INDEX opened_code ON opened (code);
CREATE INDEX opened_stem ON opened (stem);
CREATE INDEX opened_day ON opened (formula, made);
CREATE TRIGGER event_no_update BEFORE UPDATE ON event
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never changed');
END;
CREATE TRIGGER event_no_delete BEFORE DELETE ON event
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never changed');
END;
CREATE TRIGGER opened_no_update BEFORE UPDATE ON opened
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never changed');
END;
CREATE TRIGGER opened_no_delete BEFORE DELETE ON opened
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never changed');
END;
CREATE TRIGGER asset_no_update BEFORE UPDATE ON asset
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never changed');
END;
CREATE TRIGGER asset_no_delete BEFORE DELETE ON asset
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never changed');
END;
CREATE TRIGGER event_no_replace BEFORE INSERT ON event WHEN NEW.number <> 1 + (SELECT COALESCE(MAX(number), 0) FROM event) OR EXISTS (SELECT 1 FROM event WHERE id = NEW.id OR hash = NEW.hash OR previous = NEW.previous)
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never replaced');
END;
CREATE TRIGGER opened_no_replace BEFORE INSERT ON opened WHEN EXISTS (SELECT 1 FROM opened WHERE code_key = NEW.code_key OR event = NEW.event)
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never replaced');
END;
CREATE TRIGGER asset_no_replace BEFORE INSERT ON asset WHEN EXISTS (SELECT 1 FROM asset WHERE sha256 = NEW.sha256)
BEGIN
  SELECT RAISE(ABORT, 'what is on record is never replaced');
END;
COMMIT;
