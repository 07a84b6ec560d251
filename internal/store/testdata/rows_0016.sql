INSERT INTO passkeys VALUES (1, 1, 'Phone', 'stars.example', x'000102030405060708090a0b0c0d0e0f', x'a1a2a3a4', x'7b7d', '2026-10-01T08:00:00.000Z', NULL);
