-- The state keeps what grows with every visit in pieces, and the compact row where each meter's line ends. Both are derived: made again from the evidence,
-- by the first who needs them; until then each is a row of no policy (-1).

update comeback_ledger.unit_fold set policy_version = -1;

update comeback_ledger.unit_summary set policy_version = -1;
