using System.CommandLine;
using Commission.Workshop.Ports;

namespace Commission.App.CommandLine;

/// <summary>What all verbs share: files, answers, and how the options that stand everywhere are understood.</summary>
internal sealed class Workbench(Surroundings here, ITextFiles files)
{
    /// <summary>The world around.</summary>
    public Surroundings Here => here;

    /// <summary>Files that a person names.</summary>
    public ITextFiles Files => files;

    /// <summary>The way answers are written for this request.</summary>
    public Answer Answer(ParseResult parsed) => new(here, parsed.GetValue(Common.Json));
}
