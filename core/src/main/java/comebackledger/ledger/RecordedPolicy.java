package comebackledger.ledger;

import comebackledger.policy.Policy;

/** @param version 0 while the defaults hold */
public record RecordedPolicy(Policy policy, int version) {}
