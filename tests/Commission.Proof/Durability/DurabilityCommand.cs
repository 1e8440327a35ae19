namespace Commission.Proof.Durability;

/// <summary><c>durability [--short]</c>: 1000 kills and 300 power cuts; 50 and 60 in the short form.</summary>
internal static class DurabilityCommand
{
    private const int Seed = 20310504;

    internal static int Run(bool brief)
    {
        var (kills, cuts) = brief ? (50, 60) : (1000, 300);
        try
        {
            var compared = KillRun.Run(kills, Seed);
            Console.Out.WriteLine($"durability: {kills} kills, {compared} acknowledged readings compared, none lost or altered (seed {Seed})");
            PowerCuts.Run(cuts, Seed);
            Console.Out.WriteLine($"durability: {cuts} power cuts replayed, no acknowledged reading lost, every store opened and went on (seed {Seed})");
            return 0;
        }
        catch (InvalidOperationException lost)
        {
            Console.Out.WriteLine($"durability: {lost.Message}");
            return 1;
        }
    }
}
