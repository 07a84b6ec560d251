INSERT INTO own_targets (id, name, kind, ra, dec) VALUES (4, 'Coat hook', 'asterism', 291.3, 20.1);
