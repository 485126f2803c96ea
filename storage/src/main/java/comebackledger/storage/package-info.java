/**
 * Where is evidence kept, and how does it survive? The storage port of {@code comebackledger.ledger} over JDBC, once for both engines:
 * embedded H2 and PostgreSQL from version 15. The door is {@link comebackledger.storage.JdbcStore}; what may be known here is the port and SQL.
 *
 * <p>One write goes {@link comebackledger.storage.JdbcStore} (which engine) → {@code Transactions} (run, commit, run again after a conflict) →
 * {@code JdbcTransaction} (the port) → one {@code …Rows} per table → {@code Session} (statements of one connection).
 *
 * <p>Decisions:
 * <ul>
 * <li>An instant is its nanosecond since 1970 in a {@code bigint} column, which holds what evidence may span (1900 to 2200) exactly; others are refused. A
 * timestamp column keeps microseconds in PostgreSQL, and an order that rounds differs from the order in Java. A decimal column would hold every
 * {@link java.time.Instant}, and cost an import a twentieth.
 * <li>Identifier columns sort by code point: {@code collate "C"} in PostgreSQL, set by a placeholder of the migration; H2 without a collation compares
 * UTF-16 units, which is the same order for the identifiers that the contract allows (ASCII). Wider identifiers would reopen this.
 * <li>Appended rows wait in the transaction and go out as JDBC batches: before a read that could see them, when they grow large, and at the end. A read by
 * whole key looks into the waiting rows first.
 * <li>An engine pays for each row, each index of it, and the undoing of both; an import writes one visit and its derived rows at a time. So the facts that
 * one transaction keeps of a unit share a row, and so do the changes of one transaction and caller, up to a limit that keeps reading one of them cheap.
 * <li>A feed position is taken under the lock of the fleet's {@code fleet_head} row, last in the transaction: commits of one fleet become visible in the
 * order of their positions. The alternative, a sequence, is assigned before commit and lets a reader pass rows that appear later.
 * <li>Writers of an embedded ledger take turns ({@code SoleWriters}, which says why): an import of 1 million visits took as long as with two at once, because the
 * engine lets one commit at a time anyway.
 * <li>How far a fleet has come is remembered where this process alone can write (a file or memory of our own): a dispatch answer that is told again needs no
 * transaction then, a quarter of its cost over HTTP. Over PostgreSQL or a host's data source it is read each time, because another process may write; a short
 * life of what was read would tell a truck ready a moment after its fault was acknowledged elsewhere.
 * <li>Summaries are streamed by keyset pages inside one snapshot: bounded memory on both engines without a driver's cursor mode.
 * <li>Writing transactions read committed rows and rely on the unit's lock; reading ones hold a snapshot (repeatable read).
 * <li>The embedded file is opened through the engine's {@code retry:} file system. With the plain one an interrupt of one writing thread closed the
 * database for all (170 of 200 interrupted writers failed, then every other); with this one none failed. The engine clears the interrupt, so work that
 * must hear of its deadline keeps it elsewhere. The {@code async:} one keeps the interrupt and read several times slower past the cache.
 * <li>No foreign keys and every key begins with the fleet, then the unit: an engine that shards by them needs no cross-shard check.
 * </ul>
 */
@NullMarked
package comebackledger.storage;

import org.jspecify.annotations.NullMarked;
