-- An import writes mostly derived rows, and an embedded engine pays for each row and each index of it: the facts of several visits share a row, and so do
-- the changes of one transaction. Instants become whole nanoseconds in 64 bits, which hold all that evidence may span.

alter table comeback_ledger.unit_version alter column recorded_at_ns set data type bigint;
alter table comeback_ledger.visit_revision alter column arrived_at_ns set data type bigint;
alter table comeback_ledger.visit_revision alter column received_at_ns set data type bigint;
alter table comeback_ledger.policy_version alter column recorded_at_ns set data type bigint;
alter table comeback_ledger.baseline_version alter column learned_at_ns set data type bigint;

-- A line a change: kind, unit, visit, instant, parted by tabs, which no identifier holds.
create table if not exists comeback_ledger.change_run (
    fleet ${identifier} not null,
    last_position bigint not null,
    changed_by varchar not null,
    changes varchar not null,
    primary key (fleet, last_position)
);

-- Gone already where this migration was stopped after its drop.
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

insert into comeback_ledger.change_run (fleet, last_position, changed_by, changes)
select f.fleet, f.feed_position, f.changed_by,
  f.kind || chr(9) || coalesce(f.unit, '') || chr(9) || coalesce(f.visit, '') || chr(9) || cast(cast(f.changed_at_ns as bigint) as varchar)
from comeback_ledger.change_feed f
where not exists (
  select 1
  from comeback_ledger.change_run r
  where r.fleet = f.fleet and r.last_position = f.feed_position);

drop table comeback_ledger.change_feed;

-- Derived: made again from the evidence, by the first who needs it; until then each unit has a row of no policy (-1).

drop table if exists comeback_ledger.visit_facts;
drop table if exists comeback_ledger.unit_fold;
drop table if exists comeback_ledger.unit_summary;
drop table if exists comeback_ledger.facts_run;

create table comeback_ledger.facts_run (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    first_visit ${identifier} not null,
    facts bytea not null,
    primary key (fleet, unit, first_visit)
);

create table comeback_ledger.unit_fold (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    unit_version integer not null,
    policy_version integer not null,
    last_received_at_ns bigint,
    state bytea not null,
    primary key (fleet, unit)
);

create table comeback_ledger.unit_summary (
    fleet ${identifier} not null,
    unit ${identifier} not null,
    unit_version integer not null,
    policy_version integer not null,
    summary bytea not null,
    primary key (fleet, unit)
);

insert into comeback_ledger.unit_fold (fleet, unit, unit_version, policy_version, last_received_at_ns, state)
select u.fleet, u.unit, max(u.version), -1, null, cast('' as bytea)
from comeback_ledger.unit_version u
group by u.fleet, u.unit;

insert into comeback_ledger.unit_summary (fleet, unit, unit_version, policy_version, summary)
select u.fleet, u.unit, max(u.version), -1, cast('' as bytea)
from comeback_ledger.unit_version u
group by u.fleet, u.unit;
