/**
 * The fleet's own limits and windows: every number that the rules call policy, with its default.
 *
 * <p>Door: {@link comebackledger.policy.Policy}. Versioned and cited by every answer; the judgements and the fold are made under one version.
 */
@NullMarked
package comebackledger.policy;

import org.jspecify.annotations.NullMarked;
