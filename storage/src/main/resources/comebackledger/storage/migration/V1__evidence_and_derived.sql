-- Evidence: rows are only ever appended.

create table if not exists comeback_ledger.fleet_head (
    fleet ${identifier} not null,
    last_position bigint not null,
    primary key (fleet)
);

create table if not exists comeback_ledger.unit_head (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    primary key (fleet, unit)
);

create table if not exists comeback_ledger.unit_version (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    version integer not null,
    document varchar not null,
    recorded_at_ns numeric(26, 0) not null,
    recorded_by varchar not null,
    primary key (fleet, unit, version)
);

create table if not exists comeback_ledger.visit_revision (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    visit ${identifier} not null,
    revision integer not null,
    arrived_at_ns numeric(26, 0) not null,
    voided boolean not null,
    evidence varchar not null,
    received_at_ns numeric(26, 0) not null,
    recorded_by varchar not null,
    primary key (fleet, unit, visit, revision)
);

create index if not exists visit_revision_by_visit on comeback_ledger.visit_revision (fleet, visit);

create table if not exists comeback_ledger.policy_version (
    fleet ${identifier} not null,
    version integer not null,
    document varchar not null,
    recorded_at_ns numeric(26, 0) not null,
    recorded_by varchar not null,
    primary key (fleet, version)
);

create table if not exists comeback_ledger.change_feed (
    fleet ${identifier} not null,
    feed_position bigint not null,
    kind varchar not null,
    unit ${identifier},
    visit ${identifier},
    changed_at_ns numeric(26, 0) not null,
    changed_by varchar not null,
    primary key (fleet, feed_position)
);

-- Derived: may be dropped and rebuilt from the evidence. Baseline versions stay, because answers cite them.

create table if not exists comeback_ledger.visit_facts (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    visit ${identifier} not null,
    arrived_at_ns numeric(26, 0) not null,
    facts bytea not null,
    primary key (fleet, unit, visit)
);

create table if not exists comeback_ledger.unit_fold (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    unit_version integer not null,
    policy_version integer not null,
    last_received_at_ns numeric(26, 0),
    state bytea not null,
    primary key (fleet, unit)
);

create table if not exists comeback_ledger.unit_summary (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    unit_version integer not null,
    policy_version integer not null,
    summary bytea not null,
    primary key (fleet, unit)
);

create table if not exists comeback_ledger.baseline_version (
    fleet ${identifier} not null,
    version integer not null,
    learned_at_ns numeric(26, 0) not null,
    content bytea not null,
    primary key (fleet, version)
);
