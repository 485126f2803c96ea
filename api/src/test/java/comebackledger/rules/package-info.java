/**
 * The rules, line by line, told as visits of invented trucks through the embedded ledger on H2. Each case cites its section and line, and stands on both
 * sides of its boundary. The rules are the expectation; no figure comes from the code.
 */
@NullMarked
package comebackledger.rules;

import org.jspecify.annotations.NullMarked;
