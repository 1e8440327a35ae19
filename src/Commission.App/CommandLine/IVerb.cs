using System.CommandLine;

namespace Commission.App.CommandLine;

/// <summary>One word of the command line.</summary>
internal interface IVerb
{
    /// <summary>The command with its options, its help and what it does.</summary>
    Command Declare();
}
