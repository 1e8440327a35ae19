using System.Collections.Immutable;

namespace Commission.Practice.Draws;

/// <summary>A distribution from which a property of a machine, hand or instrument is drawn.</summary>
public abstract record Law
{
    private Law()
    {
    }

    /// <summary>Uniform between two limits.</summary>
    public sealed record Uniform(double Low, double High) : Law;

    /// <summary>Normal.</summary>
    public sealed record Normal(double Mean, double StandardDeviation) : Law;

    /// <summary>Log-normal: the logarithm is normal about that of the median.</summary>
    public sealed record LogNormal(double Median, double Sigma) : Law;

    /// <summary>One of several laws, by weight.</summary>
    public sealed record Mixture(ImmutableArray<(double Weight, Law Law)> Parts) : Law;

    /// <summary>Another law, its draws multiplied by a factor: larger or smaller errors of the same kind.</summary>
    public sealed record Scaled(Law Of, double Factor) : Law;

    /// <summary>One draw.</summary>
    public double Draw(DrawSource source) => this switch
    {
        Uniform u => source.NextUniform(u.Low, u.High),
        Normal n => n.Mean + (n.StandardDeviation * source.NextNormal()),
        LogNormal l => l.Median * PortableMath.Exp(l.Sigma * source.NextNormal()),
        Mixture m => m.Parts[source.NextWeighted([.. m.Parts.Select(part => part.Weight)])].Law.Draw(source),
        Scaled s => s.Factor * s.Of.Draw(source),
        _ => throw new System.Diagnostics.UnreachableException(),
    };
}
