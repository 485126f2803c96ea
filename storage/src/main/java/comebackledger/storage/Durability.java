package comebackledger.storage;

/** What an acknowledged write on embedded H2 survives. PostgreSQL syncs by itself. */
public enum Durability {
    /** A kill of the process: rows are handed to the operating system at each commit. The default. */
    PROCESS_KILL,
    /** A power cut too: the file is forced to the disk at each commit, at about a third of the speed. */
    POWER_CUT
}
