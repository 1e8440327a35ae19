using Commission.Core.Procedures;
using Commission.Tests;

namespace Commission.App.Tests.Plain;

/// <summary>A procedure that begins with a check answered by yes or no.</summary>
internal static class OneCheck
{
    /// <summary>The check, and what follows it.</summary>
    /// <param name="steps">The other steps as they stand in a file; empty for none.</param>
    public static Procedure Followed(string steps = "") => ProcedureReader.Read("one-check.yaml",
        $$"""
        format: commission.procedure/1
        id: one-check
        title: One check
        purpose: Looks at a cover.
        minutes: 1
        hazards: [{what: It is sharp., do: Gloves.}]
        steps:
          - name: cover
            check:
              id: C01
              ask: Is the cover on?
              answer: yes-no
              source: common practice
              ifOut: Put it on.
        {{steps}}
        evaluation: [None.]
        abort: [It is gone.]
        goodData: [It is on.]
        slips: [None.]
        """).Require();
}
